//! The wind against which the aircraft can hold its place.
//!
//! Formula   T_usable = T_greatest / (1 + k); D = √(T_usable² − W²), tilt not above its limit; V = √(2 D / (ρ f))
//! Units     N, m/s, kg/m³, m²
//! Source    steady force balance; tilt limit of 35°: common practice, no source
//! Valid     T_usable above weight; else no wind can be held
//! Assumes   thrust ceiling as in still air

use super::trim::{LevelCeiling, Trim};
use crate::units::{MassDensity, Ratio, Velocity};
use uom::si::force::newton;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::velocity::meter_per_second;

/// tan 35°.
const TILT_LIMIT_TANGENT: f64 = 0.700_207_5;

/// Greatest steady wind that can be held with `control_share` of the usable thrust kept for control; none where
/// not even still air leaves that much.
pub fn greatest_wind_held(
    trim: &Trim<'_>,
    density: MassDensity,
    level: &LevelCeiling,
    control_share: Ratio,
) -> Option<Velocity> {
    let weight_n = trim.weight().get::<newton>();
    let usable_n = level.thrust.get::<newton>() / (1.0 + control_share.value);
    if usable_n < weight_n {
        return None;
    }
    let drag_n = (usable_n * usable_n - weight_n * weight_n).sqrt().min(weight_n * TILT_LIMIT_TANGENT);
    let area_m2 = trim.airframe().drag_area.value;
    let wind_m_s = (2.0 * drag_n / (density.get::<kilogram_per_cubic_meter>() * area_m2)).sqrt();
    Some(Velocity::new::<meter_per_second>(wind_m_s))
}
