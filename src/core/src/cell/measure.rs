//! A cell's resistance from what a crew can measure: two readings under load, or its maker's 1 kHz figure.
//!
//! Formula: R = (V_1 − V_2) / (I_2 − I_1) / cells in series, direct current, both readings after some seconds at their
//! load and close in charge. Spread: a reading is anywhere in its last digit (step/√12 each; two of them step/√6), of
//! voltage and current, and `READINGS_APART` for the charge used between them. From the 1 kHz figure: times `AC_FACTOR`.
//! Units: SI. Source: Ohm's law; cells that were measured under load showed 2.6 to 4 times their maker's 1 kHz figure,
//! (loaded voltage 75 to 145 mV a cell too high when it is taken as it stands), here its middle by ratio and the whole
//! range as one deviation either way.
//! Valid: cells above a third of their charge. Assumes: both loads held some seconds.

use uom::si::electrical_resistance::ohm;
use uom::si::ratio::ratio;

use super::params::CellParams;
use crate::input_error::InputError;
use crate::input_range::{InputRange, Kind};
use crate::units::{ElectricCurrent, ElectricPotential, ElectricalResistance, Ratio};

/// Resistance under load over the maker's value at 1 kHz: √(2.6 · 4).
pub const AC_FACTOR: f64 = 3.22;
/// One deviation of its logarithm: ln(4 / 2.6) / 2.
const AC_FACTOR_SPREAD: f64 = 0.215;
/// One deviation for charge and warmth that change between the readings. Common practice, no source.
const READINGS_APART: f64 = 0.05;

/// Range of a pack's voltage under load: 2 to 120 V.
pub static LOADED_PACK_VOLTAGE: InputRange =
    InputRange::new("loaded_pack_voltage", Kind::Potential, 2.0, 120.0);
/// Range of a pack's current under load: 0 to 1,000 A.
pub static LOADED_PACK_CURRENT: InputRange =
    InputRange::new("loaded_pack_current", Kind::Current, 0.0, 1000.0);
/// Range of the fall in voltage between two readings: 0.02 to 30 V.
pub static VOLTAGE_FALL: InputRange = InputRange::new("voltage_fall", Kind::Potential, 0.02, 30.0);
/// Range of the rise in current between two readings: 1 to 1,000 A.
pub static CURRENT_RISE: InputRange = InputRange::new("current_rise", Kind::Current, 1.0, 1000.0);
/// Range of cells in series: 1 to 28.
pub static READING_CELLS: InputRange = InputRange::new("reading_cells", Kind::Count, 1.0, 28.0);
/// Range of what two readings leave open: up to half, beyond which they say nothing.
pub static READING_SPREAD: InputRange = InputRange::new("reading_spread", Kind::Share, 0.0, 0.5);

/// What meters show of a pack at one load.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LoadReading {
    /// Of the whole pack.
    pub voltage: ElectricPotential,
    /// Out of this pack.
    pub current: ElectricCurrent,
}

/// A cell's resistance, and one standard deviation as a share.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MeasuredResistance {
    /// Of one cell.
    pub resistance: ElectricalResistance,
    /// Of its logarithm.
    pub spread: Ratio,
}

/// Resistance of one cell by two readings, in any order; `last_digits` are the steps that the meters show.
///
/// # Errors
/// `InputError::OutOfRange` for readings outside the ranges above, too close to each other, or with a current that does
/// not rise as the voltage falls.
pub fn resistance_from_readings(
    readings: [LoadReading; 2],
    cells_in_series: u32,
    last_digits: LoadReading,
) -> Result<MeasuredResistance, InputError> {
    for reading in &readings {
        LOADED_PACK_VOLTAGE.check(reading.voltage.value)?;
        LOADED_PACK_CURRENT.check(reading.current.value)?;
    }
    let cells = READING_CELLS.check(f64::from(cells_in_series))?;
    let [one, other] = readings;
    let sign = if other.current >= one.current { 1.0 } else { -1.0 };
    let rise_a = CURRENT_RISE.check(sign * (other.current - one.current).value)?;
    let fall_v = VOLTAGE_FALL.check(sign * (one.voltage - other.voltage).value)?;
    let by_digits = |step: f64, difference: f64| step.abs() / 6.0_f64.sqrt() / difference;
    let of_voltage = by_digits(last_digits.voltage.value, fall_v);
    let of_current = by_digits(last_digits.current.value, rise_a);
    let spread = READING_SPREAD.check(of_voltage.hypot(of_current).hypot(READINGS_APART))?;
    let resistance_ohm = CellParams::RESISTANCE.check(fall_v / rise_a / cells)?;
    Ok(MeasuredResistance {
        resistance: ElectricalResistance::new::<ohm>(resistance_ohm),
        spread: Ratio::new::<ratio>(spread),
    })
}

/// Resistance under load of a cell whose maker states one at 1 kHz.
///
/// # Errors
/// `InputError::OutOfRange` where either lies outside a cell's range.
pub fn resistance_from_ac(at_1_khz: ElectricalResistance) -> Result<MeasuredResistance, InputError> {
    let stated_ohm = CellParams::RESISTANCE.check(at_1_khz.value)?;
    let resistance_ohm = CellParams::RESISTANCE.check(AC_FACTOR * stated_ohm)?;
    Ok(MeasuredResistance {
        resistance: ElectricalResistance::new::<ohm>(resistance_ohm),
        spread: Ratio::new::<ratio>(AC_FACTOR_SPREAD),
    })
}
