//! Drag of everything but the rotors' own work, and how it is learned from one flight.
//!
//! Formula   D = ½ ρ f V², tan θ = D / W, so f = 2 W tan θ / (ρ V²)
//! Units     m², N, kg/m³, m/s, rad
//! Source    steady force balance. Usual areas: what a lean takes 0.045 m^(2/3) (0.35 m² at 22 kg), what power takes 0.02 m^(2/3):
//!           one open autopilot's simulator model of a 25.7 kg coaxial eight (ArduPilot, Tools/autotest/models/Callisto.json,
//!           commit 04dc0b71) implies about 0.39 m² at 30° of lean, inconsistent with its own power, so part of it is the rotors'
//!           in-plane force: thin evidence
//! Valid     calm air, steady speed, lean of 2 to 60°
//! Assumes   one area for all directions. Doubt: a third either way, one standard deviation (common practice, no source)

use super::params::Airframe;
use crate::input_error::InputError;
use crate::input_range::{InputRange, Kind};
use crate::units::{Angle, Area, Force, Mass, MassDensity, Velocity};
use uom::si::angle::radian;
use uom::si::area::square_meter;
use uom::si::mass::kilogram;

/// Lean of the learning flight: 2 to 60 degrees.
pub static LEAN: InputRange = InputRange::new("lean", Kind::Angle, 0.034_9, core::f64::consts::FRAC_PI_3);
/// Airspeed of the learning flight: 2 to 40 m/s.
pub static LEARNING_SPEED: InputRange = InputRange::new("learning_airspeed", Kind::Speed, 2.0, 40.0);

/// What usually makes an aircraft of this mass lean: for the wind that it can hold.
pub fn usual_lean_area(all_up_mass: Mass) -> Area {
    Area::new::<square_meter>(0.045 * all_up_mass.get::<kilogram>().powf(2.0 / 3.0))
}

/// What usually costs an aircraft of this mass power in forward flight.
pub fn usual_power_area(all_up_mass: Mass) -> Area {
    Area::new::<square_meter>(0.005 + 0.02 * all_up_mass.get::<kilogram>().powf(2.0 / 3.0))
}

/// The area that one steady flight in calm air shows.
///
/// # Errors
/// `InputError::OutOfRange` for lean or speed, or an area outside `Airframe::DRAG_AREA`.
pub fn lean_area_from_flight(
    weight: Force,
    air_density: MassDensity,
    airspeed: Velocity,
    lean: Angle,
) -> Result<Area, InputError> {
    let tangent = LEAN.check(lean.get::<radian>())?.tan();
    let speed_m_s = LEARNING_SPEED.check(airspeed.value)?;
    let area_m2 = 2.0 * weight.value * tangent / (air_density.value * speed_m_s * speed_m_s);
    Airframe::DRAG_AREA.check(area_m2).map(Area::new::<square_meter>)
}
