//! A cell's resistance by two readings under load: what is typed for it, and what comes of it.

use liftmargin_core::cell::{
    LOADED_PACK_CURRENT, LOADED_PACK_VOLTAGE, LoadReading, MeasuredResistance, resistance_from_readings,
};
use liftmargin_core::input_error::InputError;
use liftmargin_core::units::{ElectricCurrent, ElectricPotential};
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;

use super::Unit;
use crate::fields::Number;

/// What most meters on board show: tenths of a volt, whole amps. Common practice, no source.
const LAST_DIGITS: (f64, f64) = (0.1, 1.0);

/// Voltage and current of the lower throttle, then of the higher one.
pub static READINGS: [Number; 4] = [
    reading(
        "voltage_low_v",
        true,
        "Volts, lower throttle",
        "Of this pack, after some seconds at that throttle.",
    ),
    reading("current_low_a", false, "Amps, lower throttle", "Out of this pack, at the same moment."),
    reading(
        "voltage_high_v",
        true,
        "Volts, higher throttle",
        "After some seconds, soon after the first reading.",
    ),
    reading("current_high_a", false, "Amps, higher throttle", "Out of this pack, at the same moment."),
];

const fn reading(path: &'static str, is_voltage: bool, label: &'static str, help: &'static str) -> Number {
    let (unit, range) =
        if is_voltage { (Unit::Volt, &LOADED_PACK_VOLTAGE) } else { (Unit::Ampere, &LOADED_PACK_CURRENT) };
    Number { path, unit, range, optional: true, label, help }
}

/// The resistance by the four readings, in the order of `READINGS`.
///
/// # Errors
/// `InputError` for a value outside its range, or readings too close to say anything.
pub fn cell_resistance(typed: [f64; 4], cells_in_series: u32) -> Result<MeasuredResistance, InputError> {
    let reading = |voltage_v: f64, current_a: f64| LoadReading {
        voltage: ElectricPotential::new::<volt>(voltage_v),
        current: ElectricCurrent::new::<ampere>(current_a),
    };
    let [low_v, low_a, high_v, high_a] = typed;
    let readings = [reading(low_v, low_a), reading(high_v, high_a)];
    resistance_from_readings(readings, cells_in_series, reading(LAST_DIGITS.0, LAST_DIGITS.1))
}
