//! Makers' bench tables as they come: read tolerantly, refuse in plain words.
//!
//! Cut at commas, semicolons, tabs, bars, runs of spaces, single spaces, or one cell a line; decimal point or comma; byte-order
//! mark; the header is the line with most known words, in any order, or there is none; units in the titles, in a line of
//! their own, or in the cells; titles above, notes below and repeated headers are left out and told; a name or a voltage that is
//! printed once holds for the rows below it; a table on its side is turned; of several tables in one text one is chosen. Columns
//! that the header does not tell are chosen by hand. Where it cannot be told which cell is missing, the line is refused.
//! Units: gf, kgf, N, lbf, ozf; V; A or W; rpm; % or µs of signal (1000 µs = 0, 2000 µs = full: common practice, no source).

mod cutting;
mod figures;
mod guess;
mod lay_out;
mod one_a_line;
mod reading;
mod refusal;
mod roles;
mod several;
mod titles;

use core::num::NonZeroU8;

use cutting::{Cut, cut};
use figures::has_decimal_comma;
use guess::guess;
use lay_out::lay_out;
pub use reading::read;
pub use refusal::BenchCsvError;
pub use roles::ROLES;
use several::parts_of;

/// More rows than any bench table; the rest is counted, not kept.
const MOST_ROWS: usize = 5000;
/// More columns than any bench table; the rest of a row is left out.
const MOST_COLUMNS: usize = 60;
/// More text than any bench table: it is not even looked at.
const MOST_BYTES: usize = 500_000;

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
    /// Electrical power, in watts: tells the current where no column does.
    pub power: Option<usize>,
    /// Millivolts that the words around the table state: for rows without a voltage.
    pub stated_voltage_mv: Option<u32>,
    /// Which of several tables in the text, from 0.
    pub table: Option<usize>,
}

/// One row of a sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SheetRow {
    /// Line of the file, from 1.
    pub line: u64,
    /// Its cells, trimmed.
    pub cells: Vec<String>,
}

/// A line that is no row: a title, a note, a repeated header.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LeftOut {
    /// Line of the text, from 1.
    pub line: u64,
    /// What stands there.
    pub text: String,
}

/// One of several tables in a text: rows between two places where the throttle starts over.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Part {
    /// What is printed beside its first row or above it: a rotor, a motor.
    pub name: String,
    /// Its first row, from 0.
    pub first: usize,
    /// How many rows.
    pub rows: usize,
    /// Rotor diameter that its name states, in millimetres.
    pub rotor_mm: Option<u32>,
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
    /// Lines that were not taken for rows.
    pub left_out: Vec<LeftOut>,
    /// The tables in it, one for most.
    pub parts: Vec<Part>,
    /// Why it cannot be read whatever the columns mean.
    pub fault: Option<BenchCsvError>,
    /// Units that stand in a line of their own and could not be given to a column.
    loose_units: String,
}

/// Takes a text apart and guesses its columns. Any text gives a sheet, perhaps an empty one.
pub fn inspect(text: &str) -> Sheet {
    let text = text.trim_start_matches('\u{feff}');
    if text.len() > MOST_BYTES {
        return Sheet { too_large: Some(text.len()), ..Sheet::default() };
    }
    let (cut, lines) = cut(text);
    let mut laid = lay_out(cut, &lines);
    let rows_left_out = laid.rows.len().saturating_sub(MOST_ROWS);
    laid.rows.truncate(MOST_ROWS);
    let cells = laid.rows.iter().flat_map(|row| &row.cells);
    let mut sheet = Sheet {
        decimal_comma: has_decimal_comma(cells, cut == Cut::At(b',')),
        headers: laid.headers,
        rows: laid.rows,
        rows_left_out,
        left_out: laid.left_out,
        fault: laid.fault,
        loose_units: laid.loose_units,
        ..Sheet::default()
    };
    sheet.guessed = guess(&sheet);
    sheet.parts = parts_of(&sheet, &sheet.guessed);
    sheet
}
