//! The rows of a sheet by chosen columns, in SI units.

use liftmargin_core::propulsion::BenchRow;
use liftmargin_core::units::{AngularVelocity, ElectricCurrent, ElectricPotential, Force, Ratio};
use uom::si::angular_velocity::revolution_per_minute;
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::force::newton;
use uom::si::ratio::ratio;

use super::figures::{is_blank, number};
use super::{BenchCsvError, Columns, Sheet, SpeedUnit, ThrottleUnit, ThrustUnit};

const KILOGRAM_FORCE_N: f64 = liftmargin_core::constants::STANDARD_GRAVITY_M_S2;
/// International avoirdupois pound, exact (1959).
const POUND_KG: f64 = 0.453_592_37;

/// The rows of a sheet by chosen columns, one for each row of the sheet and in its order.
///
/// # Errors
/// `BenchCsvError`, naming row, line, column and value. Whether the figures make sense is for the fit to judge.
pub fn read(sheet: &Sheet, columns: &Columns) -> Result<Vec<BenchRow>, BenchCsvError> {
    if let Some(bytes) = sheet.too_large {
        return Err(BenchCsvError::TooLarge { bytes });
    }
    if let Some(fault) = &sheet.fault {
        return Err(fault.clone());
    }
    let needed = |quantity, index: Option<usize>| match index {
        None => Err(BenchCsvError::NotChosen { quantity }),
        Some(index) if index < sheet.headers.len() => Ok(index),
        Some(index) => Err(BenchCsvError::NoSuchColumn { quantity, index }),
    };
    if columns.stated_voltage_mv.is_none() || columns.voltage.is_some() {
        needed("voltage", columns.voltage)?;
    }
    let has_power = columns.current.is_none() && columns.power.is_some();
    needed("current", if has_power { columns.power } else { columns.current })?;
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
    let rows = match columns.table.and_then(|table| sheet.parts.get(table)) {
        Some(part) => part.first..part.first + part.rows,
        None if sheet.parts.len() > 1 => {
            return Err(BenchCsvError::SeveralTables { count: sheet.parts.len() });
        }
        None => 0..sheet.rows.len(),
    };
    let first = rows.start;
    let read_row = |row: usize| -> Result<BenchRow, BenchCsvError> {
        let volts = voltage(sheet, columns, first, row)?;
        Ok(BenchRow {
            throttle: match columns.throttle {
                Some((index, unit)) => optional_cell(sheet, row, index)?.map(|value| throttle(value, unit)),
                None => None,
            },
            voltage: ElectricPotential::new::<volt>(volts),
            current: ElectricCurrent::new::<ampere>(match (columns.current, columns.power) {
                (None, Some(power)) if volts > 0.0 => cell(sheet, row, power)? / volts,
                (index, power) => cell(sheet, row, index.or(power).unwrap_or_default())?,
            }),
            thrust: Force::new::<newton>(cell(sheet, row, thrust)? * newtons_per(thrust_unit)),
            speed: match columns.speed {
                Some((index, unit)) => optional_cell(sheet, row, index)?.and_then(|value| speed(value, unit)),
                None => None,
            },
        })
    };
    rows.map(read_row).collect()
}

/// Volts of a row: its own, those of the last row above it that has some, or the stated ones.
fn voltage(sheet: &Sheet, columns: &Columns, first: usize, row: usize) -> Result<f64, BenchCsvError> {
    let stated = columns.stated_voltage_mv.map(|millivolts| f64::from(millivolts) / 1000.0);
    let Some(index) = columns.voltage else {
        return stated.ok_or(BenchCsvError::NotChosen { quantity: "voltage" });
    };
    for above in (first..=row).rev() {
        if let Some(volts) = optional_cell(sheet, above, index)? {
            return Ok(volts);
        }
    }
    stated.map_or_else(|| cell(sheet, row, index), Ok)
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
    if is_blank(value) {
        return Ok(None);
    }
    number(value, sheet.decimal_comma).map(Some).ok_or_else(|| BenchCsvError::NotANumber {
        row: row + 1,
        line: at.line,
        column: sheet.headers.get(column).cloned().unwrap_or_default(),
        value: value.to_owned(),
    })
}
