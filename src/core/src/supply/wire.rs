//! Resistance of copper leads by American wire gauge.
//!
//! Formula: d = 0.127 mm · 92^((36 − n)/39); R = ρ_20 · l / A · (1 + α (t − 20 °C)), l of both conductors together.
//! Units: m, K, Ω. Source: gauge rule from memory (ASTM B258); ρ_20 = 0.017241 Ω·mm²/m and α = 0.00393 /K, NBS
//! Handbook 100. Assumes solid annealed copper; stranded tinned lead is a few percent higher (from memory).

use uom::si::electrical_resistance::ohm;

use crate::input_error::InputError;
use crate::input_range::{InputRange, Kind};
use crate::units::{ElectricalResistance, Length, ThermodynamicTemperature};

const RESISTIVITY_OHM_M: f64 = 1.7241e-8;
const TEMPERATURE_COEFFICIENT_PER_K: f64 = 0.003_93;
const STATED_AT_K: f64 = 293.15;

/// Range of the gauge: 0 to 24.
pub static WIRE_GAUGE: InputRange = InputRange::new("wire_gauge", Kind::Count, 0.0, 24.0);
/// Range of the length of conductor, there and back: 0 to 20 m.
pub static WIRE_LENGTH: InputRange = InputRange::new("wire_length", Kind::PartLength, 0.0, 20.0);
/// Range of its temperature: −40 to 120 °C.
pub static WIRE_TEMPERATURE: InputRange =
    InputRange::new("wire_temperature", Kind::Temperature, 233.15, 393.15);

/// Resistance of a copper lead; `length` counts there and back.
///
/// # Errors
/// `InputError::OutOfRange` for a gauge, length or temperature outside its range.
pub fn lead_resistance(
    gauge: u32,
    length: Length,
    temperature: ThermodynamicTemperature,
) -> Result<ElectricalResistance, InputError> {
    let gauge = WIRE_GAUGE.check(f64::from(gauge))?;
    let length_m = WIRE_LENGTH.check(length.value)?;
    let temperature_k = WIRE_TEMPERATURE.check(temperature.value)?;
    let diameter_m = 0.127e-3 * 92_f64.powf((36.0 - gauge) / 39.0);
    let area_m2 = core::f64::consts::FRAC_PI_4 * diameter_m * diameter_m;
    let warmth = 1.0 + TEMPERATURE_COEFFICIENT_PER_K * (temperature_k - STATED_AT_K);
    Ok(ElectricalResistance::new::<ohm>(RESISTIVITY_OHM_M * length_m / area_m2 * warmth))
}
