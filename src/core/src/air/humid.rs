//! Density of moist air.
//!
//! Formula   CIPM-2007: ρ = p M_a / (Z R T) [1 − x_v (1 − M_v / M_a)], 400 ppm CO₂
//! Units     Pa, K, share of saturation over water, kg/m³
//! Source    Picard, Davis, Gläser, Fujii, Metrologia 45 (2008) 149–155; coefficients from memory, confirmed by
//!           an independent library to 40 ppm (tests/references/humid_air)
//! Valid     stated for 600–1100 hPa and 15–27 °C; at −10 °C and 700 hPa still within 0.02 % of that library
//! Assumes   saturation over water below freezing too, as weather reports do

use super::params::Site;
use crate::input_error::InputError;
use crate::input_range::{InputRange, Kind};
use crate::units::{MassDensity, Pressure, Ratio, ThermodynamicTemperature};
use uom::si::thermodynamic_temperature::{degree_celsius, kelvin};
use uom::si::{mass_density::kilogram_per_cubic_meter, pressure::pascal, ratio::ratio};

const MOLAR_MASS_DRY_KG_MOL: f64 = 0.028_965_46;
const MOLAR_MASS_WATER_KG_MOL: f64 = 0.018_015_28;
const GAS_CONSTANT_J_MOL_K: f64 = 8.314_472;

/// Density of moist air by CIPM-2007.
pub fn moist_air_density(
    pressure: Pressure,
    temperature: ThermodynamicTemperature,
    relative_humidity: Ratio,
) -> MassDensity {
    let p = pressure.get::<pascal>();
    let t_k = temperature.get::<kelvin>();
    let t_c = temperature.get::<degree_celsius>();
    let x_v = relative_humidity.get::<ratio>() * enhancement(p, t_c) * saturation_pressure_pa(t_k) / p;
    let z = compressibility(p, t_k, t_c, x_v);
    let dry = p * MOLAR_MASS_DRY_KG_MOL / (z * GAS_CONSTANT_J_MOL_K * t_k);
    MassDensity::new::<kilogram_per_cubic_meter>(
        dry * (1.0 - x_v * (1.0 - MOLAR_MASS_WATER_KG_MOL / MOLAR_MASS_DRY_KG_MOL)),
    )
}

/// Relative humidity over water of air with this dew point: e(dew point) / e(temperature).
///
/// # Errors
/// `InputError::OutOfRange` for a temperature outside `Site::TEMPERATURE`, or a dew point above it or below −90 °C.
pub fn relative_humidity(
    temperature: ThermodynamicTemperature,
    dew_point: ThermodynamicTemperature,
) -> Result<Ratio, InputError> {
    Site::TEMPERATURE.check(temperature.value)?;
    DEW_POINT.check(dew_point.value)?;
    let of = |temperature: ThermodynamicTemperature| saturation_pressure_pa(temperature.get::<kelvin>());
    Site::RELATIVE_HUMIDITY.check(of(dew_point) / of(temperature)).map(Ratio::new::<ratio>)
}

/// −90 °C to 55 °C.
const DEW_POINT: InputRange = InputRange::new("dew_point", Kind::Temperature, 183.15, 328.15);

/// Saturation vapour pressure over water, CIPM-2007 eq. A1.1.
fn saturation_pressure_pa(t_k: f64) -> f64 {
    (1.237_884_7e-5 * t_k * t_k - 1.912_131_6e-2 * t_k + 33.937_110_47 - 6_343.164_5 / t_k).exp()
}

/// Enhancement factor of moist over pure vapour, CIPM-2007 eq. A1.2.
fn enhancement(p: f64, t_c: f64) -> f64 {
    1.000_62 + 3.14e-8 * p + 5.6e-7 * t_c * t_c
}

/// Compressibility factor, CIPM-2007 eq. A1.4.
fn compressibility(p: f64, t_k: f64, t_c: f64, x_v: f64) -> f64 {
    let first = 1.581_23e-6 - 2.933_1e-8 * t_c
        + 1.104_3e-10 * t_c * t_c
        + (5.707e-6 - 2.051e-8 * t_c) * x_v
        + (1.989_8e-4 - 2.376e-6 * t_c) * x_v * x_v;
    let second = 1.83e-11 - 0.765e-8 * x_v * x_v;
    1.0 - p / t_k * first + (p / t_k) * (p / t_k) * second
}
