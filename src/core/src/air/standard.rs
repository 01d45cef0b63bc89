//! Standard atmosphere of the troposphere, and the altimeter arithmetic that rests on it.
//!
//! Formula   T = T_0 − L H;  p = p_0 (T / T_0)^(g_0 / (R L));  ρ = p / (R T)
//! Units     geopotential altitude m, K, Pa, kg/m³
//! Source    ICAO Doc 7488/3 constants; U.S. Standard Atmosphere 1976 gives the same within 1 ppm
//! Valid     to 11 km; the callers' bounds keep it between −4.5 and 10 km
//! Assumes   geopotential and geometric altitude are one: 4 m apart at 5 km

use crate::constants::STANDARD_GRAVITY_M_S2;
use crate::units::{Length, MassDensity, Pressure, ThermodynamicTemperature};
use uom::si::thermodynamic_temperature::kelvin;
use uom::si::{length::meter, mass_density::kilogram_per_cubic_meter, pressure::pascal};

const SEA_LEVEL_TEMPERATURE_K: f64 = 288.15;
const SEA_LEVEL_PRESSURE_PA: f64 = 101_325.0;
const LAPSE_K_M: f64 = 0.006_5;
const GAS_CONSTANT_J_KG_K: f64 = 287.052_87;
/// L R / g_0, about 0.190263.
const PRESSURE_EXPONENT: f64 = LAPSE_K_M * GAS_CONSTANT_J_KG_K / STANDARD_GRAVITY_M_S2;

/// Temperature of the standard atmosphere at a geopotential altitude, −5 to 11 km.
pub fn standard_temperature(altitude: Length) -> ThermodynamicTemperature {
    ThermodynamicTemperature::new::<kelvin>(SEA_LEVEL_TEMPERATURE_K - LAPSE_K_M * altitude.get::<meter>())
}

/// Pressure of the standard atmosphere at a geopotential altitude, −5 to 11 km.
pub fn standard_pressure(altitude: Length) -> Pressure {
    let temperature_ratio = standard_temperature(altitude).get::<kelvin>() / SEA_LEVEL_TEMPERATURE_K;
    Pressure::new::<pascal>(SEA_LEVEL_PRESSURE_PA * temperature_ratio.powf(1.0 / PRESSURE_EXPONENT))
}

/// Density of the standard atmosphere at a geopotential altitude, −5 to 11 km.
pub fn standard_density(altitude: Length) -> MassDensity {
    let pressure_pa = standard_pressure(altitude).get::<pascal>();
    let temperature_k = standard_temperature(altitude).get::<kelvin>();
    MassDensity::new::<kilogram_per_cubic_meter>(pressure_pa / (GAS_CONSTANT_J_KG_K * temperature_k))
}

/// Pressure altitude: where the standard atmosphere has this pressure.
pub fn pressure_altitude(pressure: Pressure) -> Length {
    let ratio = pressure.get::<pascal>() / SEA_LEVEL_PRESSURE_PA;
    Length::new::<meter>(SEA_LEVEL_TEMPERATURE_K / LAPSE_K_M * (1.0 - ratio.powf(PRESSURE_EXPONENT)))
}

/// Density altitude: where the standard atmosphere has this density.
pub fn density_altitude(density: MassDensity) -> Length {
    let sea_level = SEA_LEVEL_PRESSURE_PA / (GAS_CONSTANT_J_KG_K * SEA_LEVEL_TEMPERATURE_K);
    let ratio = density.get::<kilogram_per_cubic_meter>() / sea_level;
    let exponent = PRESSURE_EXPONENT / (1.0 - PRESSURE_EXPONENT);
    Length::new::<meter>(SEA_LEVEL_TEMPERATURE_K / LAPSE_K_M * (1.0 - ratio.powf(exponent)))
}

/// Station pressure from the altimeter setting: p = p_0 [(QNH/p_0)^k − L h / T_0]^(1/k).
///
/// Source: the definition of QNH in the ICAO standard atmosphere.
pub fn station_pressure(qnh: Pressure, elevation: Length) -> Pressure {
    let base = (qnh.get::<pascal>() / SEA_LEVEL_PRESSURE_PA).powf(PRESSURE_EXPONENT)
        - LAPSE_K_M * elevation.get::<meter>() / SEA_LEVEL_TEMPERATURE_K;
    Pressure::new::<pascal>(SEA_LEVEL_PRESSURE_PA * base.powf(1.0 / PRESSURE_EXPONENT))
}

/// Temperature this far above a station, by the standard lapse rate.
pub fn temperature_above(station: ThermodynamicTemperature, height: Length) -> ThermodynamicTemperature {
    ThermodynamicTemperature::new::<kelvin>(station.get::<kelvin>() - LAPSE_K_M * height.get::<meter>())
}
