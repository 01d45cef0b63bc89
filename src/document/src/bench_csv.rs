//! Makers' bench tables as they come: read tolerantly, refuse in plain words.
//!
//! Comma, semicolon or tab; decimal point or comma; byte-order mark; header in any order with its units, or none; a second
//! header line with units; empty columns. Columns that the header does not tell are chosen by hand. Units: gf, kgf, N, lbf,
//! ozf; V; A; rpm; % or µs of signal (1000 µs = 0, 2000 µs = full: common practice, no source).

mod guess;

use core::fmt;
use core::num::NonZeroU8;

use liftmargin_core::propulsion::BenchRow;
use liftmargin_core::units::{AngularVelocity, ElectricCurrent, ElectricPotential, Force, Ratio};
use uom::si::angular_velocity::revolution_per_minute;
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::force::newton;
use uom::si::ratio::ratio;

use guess::guess;

/// More rows than any bench table; the rest is counted, not kept.
const MOST_ROWS: usize = 5000;
/// More columns than any bench table; the rest of a row is left out.
const MOST_COLUMNS: usize = 60;
/// More text than any bench table: it is not even looked at.
const MOST_BYTES: usize = 2_000_000;
const KILOGRAM_FORCE_N: f64 = liftmargin_core::constants::STANDARD_GRAVITY_M_S2;
/// International avoirdupois pound, exact (1959).
const POUND_KG: f64 = 0.453_592_37;

/// Unit of thrust.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[expect(missing_docs, reason = "the names say all")]
pub enum ThrustUnit {
    GramForce,
    KilogramForce,
    Newton,
    PoundForce,
    OunceForce,
}

/// Unit of throttle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ThrottleUnit {
    /// 0 to 1.
    Share,
    /// 0 to 100.
    Percent,
    /// Width of the speed controller's signal, 1000 to 2000 µs.
    SignalMicroseconds,
}

/// Unit of rotor speed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SpeedUnit {
    /// Revolutions of the rotor per minute.
    Rpm,
    /// Revolutions of the motor's field: divided by the pole pairs. While those are unknown, so is the speed.
    ElectricalRpm {
        /// Pole pairs of the motor: half its magnets.
        pole_pairs: Option<NonZeroU8>,
    },
}

/// Which column (from 0) holds what.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Columns {
    /// Throttle, where there is one.
    pub throttle: Option<(usize, ThrottleUnit)>,
    /// Volts; needed.
    pub voltage: Option<usize>,
    /// Amperes; needed.
    pub current: Option<usize>,
    /// Thrust; needed.
    pub thrust: Option<(usize, ThrustUnit)>,
    /// Rotor speed, where there is one.
    pub speed: Option<(usize, SpeedUnit)>,
}

/// One row of a sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SheetRow {
    /// Line of the file, from 1.
    pub line: u64,
    /// Its cells, trimmed.
    pub cells: Vec<String>,
}

/// A table before anyone says what its columns mean.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Sheet {
    /// Column titles; "column 1" and so on where the file has none.
    pub headers: Vec<String>,
    /// The rows below, empty ones left out.
    pub rows: Vec<SheetRow>,
    /// Rows beyond the first 5,000, not kept.
    pub rows_left_out: usize,
    /// Bytes of a text that is too large to be looked at.
    pub too_large: Option<usize>,
    /// Whether numbers have a decimal comma.
    pub decimal_comma: bool,
    /// What the titles and figures suggest.
    pub guessed: Columns,
}

/// Why a sheet gives no bench rows.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum BenchCsvError {
    /// More text than is looked at.
    TooLarge {
        /// Bytes given.
        bytes: usize,
    },
    /// The sheet has no rows.
    NoRows,
    /// A column that is needed was not chosen.
    NotChosen {
        /// What it holds.
        quantity: &'static str,
    },
    /// A chosen column that the sheet does not have.
    NoSuchColumn {
        /// What it should hold.
        quantity: &'static str,
        /// The column, from 0.
        index: usize,
    },
    /// An empty cell where a figure is needed.
    Empty {
        /// Row, from 1 below the titles.
        row: usize,
        /// Line of the file.
        line: u64,
        /// Title of the column.
        column: String,
    },
    /// A cell that is not a number.
    NotANumber {
        /// Row, from 1 below the titles.
        row: usize,
        /// Line of the file.
        line: u64,
        /// Title of the column.
        column: String,
        /// What stands there.
        value: String,
    },
}

impl fmt::Display for BenchCsvError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooLarge { bytes } => {
                write!(
                    f,
                    "the file has {bytes} bytes, a bench table has at most {MOST_BYTES}: choose another"
                )
            }
            Self::NoRows => write!(f, "the table has no rows"),
            Self::NotChosen { quantity } => write!(f, "choose the column that holds the {quantity}"),
            Self::NoSuchColumn { quantity, index } => {
                write!(f, "the table has no column {} for the {quantity}", index + 1)
            }
            Self::Empty { row, line, column } => {
                write!(f, "row {row} (line {line}): \"{column}\" is empty, a number is needed")
            }
            Self::NotANumber { row, line, column, value } => {
                write!(f, "row {row} (line {line}): \"{value}\" in \"{column}\" is not a number")
            }
        }
    }
}

impl core::error::Error for BenchCsvError {}

/// Takes a text apart and guesses its columns. Any text gives a sheet, perhaps an empty one.
pub fn inspect(text: &str) -> Sheet {
    let text = text.trim_start_matches('\u{feff}');
    let too_large = (text.len() > MOST_BYTES).then_some(text.len());
    let text = if too_large.is_some() { "" } else { text };
    let delimiter = delimiter(text);
    let mut records = split(text, delimiter);
    let rows_left_out = records.len().saturating_sub(MOST_ROWS + 1);
    records.truncate(MOST_ROWS + 1);
    let headers = take_headers(&mut records);
    let decimal_comma = has_decimal_comma(&records, delimiter);
    let guessed = Columns::default();
    let mut sheet = Sheet { headers, rows: records, rows_left_out, too_large, decimal_comma, guessed };
    sheet.guessed = guess(&sheet);
    sheet
}

/// The rows of a sheet by chosen columns, one for each row of the sheet and in its order.
///
/// # Errors
/// `BenchCsvError`, naming row, line, column and value. Whether the figures make sense is for the fit to judge.
pub fn read(sheet: &Sheet, columns: &Columns) -> Result<Vec<BenchRow>, BenchCsvError> {
    if let Some(bytes) = sheet.too_large {
        return Err(BenchCsvError::TooLarge { bytes });
    }
    let needed = |quantity, index: Option<usize>| match index {
        None => Err(BenchCsvError::NotChosen { quantity }),
        Some(index) if index < sheet.headers.len() => Ok(index),
        Some(index) => Err(BenchCsvError::NoSuchColumn { quantity, index }),
    };
    let voltage = needed("voltage", columns.voltage)?;
    let current = needed("current", columns.current)?;
    let thrust = needed("thrust", columns.thrust.map(|(index, _)| index))?;
    let thrust_unit = columns.thrust.map_or(ThrustUnit::GramForce, |(_, unit)| unit);
    if let Some((index, _)) = columns.throttle {
        needed("throttle", Some(index))?;
    }
    if let Some((index, _)) = columns.speed {
        needed("speed", Some(index))?;
    }
    if sheet.rows.is_empty() {
        return Err(BenchCsvError::NoRows);
    }
    let read_row = |row: usize| -> Result<BenchRow, BenchCsvError> {
        Ok(BenchRow {
            throttle: match columns.throttle {
                Some((index, unit)) => optional_cell(sheet, row, index)?.map(|value| throttle(value, unit)),
                None => None,
            },
            voltage: ElectricPotential::new::<volt>(cell(sheet, row, voltage)?),
            current: ElectricCurrent::new::<ampere>(cell(sheet, row, current)?),
            thrust: Force::new::<newton>(cell(sheet, row, thrust)? * newtons_per(thrust_unit)),
            speed: match columns.speed {
                Some((index, unit)) => optional_cell(sheet, row, index)?.and_then(|value| speed(value, unit)),
                None => None,
            },
        })
    };
    (0..sheet.rows.len()).map(read_row).collect()
}

fn newtons_per(unit: ThrustUnit) -> f64 {
    match unit {
        ThrustUnit::GramForce => KILOGRAM_FORCE_N / 1000.0,
        ThrustUnit::KilogramForce => KILOGRAM_FORCE_N,
        ThrustUnit::Newton => 1.0,
        ThrustUnit::PoundForce => KILOGRAM_FORCE_N * POUND_KG,
        ThrustUnit::OunceForce => KILOGRAM_FORCE_N * POUND_KG / 16.0,
    }
}

fn throttle(value: f64, unit: ThrottleUnit) -> Ratio {
    Ratio::new::<ratio>(match unit {
        ThrottleUnit::Share => value,
        ThrottleUnit::Percent => value / 100.0,
        ThrottleUnit::SignalMicroseconds => (value - 1000.0) / 1000.0,
    })
}

fn speed(value: f64, unit: SpeedUnit) -> Option<AngularVelocity> {
    let rpm = match unit {
        SpeedUnit::Rpm => value,
        SpeedUnit::ElectricalRpm { pole_pairs } => value / f64::from(pole_pairs?.get()),
    };
    Some(AngularVelocity::new::<revolution_per_minute>(rpm))
}

fn cell(sheet: &Sheet, row: usize, column: usize) -> Result<f64, BenchCsvError> {
    optional_cell(sheet, row, column)?.ok_or_else(|| BenchCsvError::Empty {
        row: row + 1,
        line: sheet.rows.get(row).map_or(0, |row| row.line),
        column: sheet.headers.get(column).cloned().unwrap_or_default(),
    })
}

fn optional_cell(sheet: &Sheet, row: usize, column: usize) -> Result<Option<f64>, BenchCsvError> {
    let Some(at) = sheet.rows.get(row) else { return Ok(None) };
    let value = at.cells.get(column).map_or("", String::as_str);
    if value.is_empty() || value == "-" {
        return Ok(None);
    }
    number(value, sheet.decimal_comma).map(Some).ok_or_else(|| BenchCsvError::NotANumber {
        row: row + 1,
        line: at.line,
        column: sheet.headers.get(column).cloned().unwrap_or_default(),
        value: value.to_owned(),
    })
}

/// A finite number, thousands separators and a unit behind it allowed.
fn number(cell: &str, decimal_comma: bool) -> Option<f64> {
    let bare = cell.trim_end_matches(|c: char| !c.is_ascii_digit() && c != '.' && c != ',').trim();
    let (decimal, thousands) = if decimal_comma { (',', '.') } else { ('.', ',') };
    let (whole, part) = bare.split_once(decimal).unwrap_or((bare, ""));
    let mut groups = whole.split([thousands, ' ', '\u{a0}', '\u{202f}', '\'', '’']);
    let mut digits = groups.next()?.replace('\u{2212}', "-");
    for group in groups {
        if group.len() != 3 {
            return None;
        }
        digits.push_str(group);
    }
    let plain = |c: char| c.is_ascii_digit() || matches!(c, '+' | '-' | 'e' | 'E');
    if !digits.chars().all(plain) || !part.chars().all(plain) {
        return None;
    }
    format!("{digits}.{part}").parse().or_else(|_| bare.parse()).ok().filter(|value: &f64| value.is_finite())
}

/// Of tab, semicolon and comma the one that cuts most of the first lines into as many cells as the first.
fn delimiter(text: &str) -> u8 {
    let sample: Vec<&str> = text.lines().filter(|line| !line.trim().is_empty()).take(10).collect();
    let sample = sample.join("\n");
    let agreement = |delimiter: u8| {
        let records = split(&sample, delimiter);
        let width = records.first().map_or(0, |row| row.cells.len());
        let alike = records.iter().filter(|row| row.cells.len() == width && width > 1).count();
        (alike, width)
    };
    // The last of equals wins, so tab before semicolon before comma.
    [b',', b';', b'\t'].into_iter().max_by_key(|&delimiter| agreement(delimiter)).unwrap_or(b',')
}

fn split(text: &str, delimiter: u8) -> Vec<SheetRow> {
    let bytes = text.as_bytes();
    let (mut at, mut line) = (0, 1);
    csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(delimiter)
        .from_reader(bytes)
        .records()
        .filter_map(Result::ok)
        .map(|record| {
            // A record's position may lie before empty lines: its line is that of the first byte after them.
            let start = record.position().map_or(0, |position| position.byte() as usize);
            let empty = bytes.iter().skip(start).take_while(|byte| matches!(byte, b'\r' | b'\n')).count();
            let first = start + empty;
            let passed = text.get(at..first).unwrap_or_default();
            line += passed.matches('\n').count() as u64;
            at = first.max(at);
            SheetRow {
                line,
                cells: record.iter().take(MOST_COLUMNS).map(|cell| cell.trim().to_owned()).collect(),
            }
        })
        .filter(|row| row.cells.iter().any(|cell| !cell.is_empty()))
        .collect()
}

/// Removes the title lines: up to two lines without any number; made-up titles where there are none.
fn take_headers(records: &mut Vec<SheetRow>) -> Vec<String> {
    let width = records.iter().map(|row| row.cells.len()).max().unwrap_or(0);
    let mut headers = vec![String::new(); width];
    for _ in 0..2 {
        let titles = records.first().is_some_and(|row| {
            row.cells.iter().all(|cell| number(cell, false).or_else(|| number(cell, true)).is_none())
        });
        if !titles {
            break;
        }
        for (header, cell) in headers.iter_mut().zip(records.remove(0).cells) {
            let joined = format!("{header} {cell}");
            joined.trim().clone_into(header);
        }
    }
    for (index, header) in headers.iter_mut().enumerate().filter(|(_, header)| header.is_empty()) {
        *header = format!("column {}", index + 1);
    }
    headers
}

/// Whether commas are decimal: a comma after which not exactly three digits stand, or one after a point. Where nothing
/// decides, a comma inside a cell of a file that is cut at commas sets thousands apart.
fn has_decimal_comma(records: &[SheetRow], delimiter: u8) -> bool {
    let (mut comma, mut point, mut either) = (0_usize, 0_usize, 0_usize);
    for cell in records.iter().flat_map(|row| &row.cells).filter(|cell| cell.contains([',', '.'])) {
        let digits = cell.trim_end_matches(|c: char| !c.is_ascii_digit());
        let Some(at) = digits.rfind([',', '.']) else { continue };
        let last_is_comma = digits[at..].starts_with(',');
        let other = if last_is_comma { '.' } else { ',' };
        let decided = digits.len() - at != 4 || digits.contains(other);
        match (decided, last_is_comma) {
            (true, true) => comma += 1,
            (true, false) => point += 1,
            (false, true) => either += 1,
            (false, false) => {}
        }
    }
    comma > point || (comma == 0 && point == 0 && either > 0 && delimiter != b',')
}
