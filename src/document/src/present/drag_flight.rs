//! The drag area that one steady flight in calm air shows: what is typed for it, and what comes of it.

use liftmargin_core::air::Air;
use liftmargin_core::aircraft::{LEAN, LEARNING_SPEED, lean_area_from_flight};
use liftmargin_core::constants::STANDARD_GRAVITY_M_S2;
use liftmargin_core::input_error::InputError;
use liftmargin_core::units::{Angle, Area, Force, Mass, Velocity};
use uom::si::angle::radian;
use uom::si::force::newton;
use uom::si::mass::kilogram;
use uom::si::velocity::meter_per_second;

use super::Unit;
use crate::fields::Number;

/// Airspeed of that flight.
pub static AIRSPEED: Number = Number {
    path: "airspeed_m_s",
    unit: Unit::MetrePerSecond,
    range: &LEARNING_SPEED,
    optional: true,
    label: "Airspeed of the flight",
    help: "Held steadily in calm air, as the flight controller logged it.",
};

/// Lean of that flight.
pub static FLIGHT_LEAN: Number = Number {
    path: "lean_deg",
    unit: Unit::Degree,
    range: &LEAN,
    optional: true,
    label: "Lean of the flight",
    help: "From upright, at that speed, as logged.",
};

/// The area by speed (m/s) and lean (°), at the mass and in the air of the setup that is open.
///
/// # Errors
/// `InputError` for a value outside its range, or an area that no such aircraft has.
pub fn drag_area(mass: Mass, air: &Air, airspeed_m_s: f64, lean_deg: f64) -> Result<Area, InputError> {
    let weight = Force::new::<newton>(mass.get::<kilogram>() * STANDARD_GRAVITY_M_S2);
    let airspeed = Velocity::new::<meter_per_second>(airspeed_m_s);
    lean_area_from_flight(weight, air.density, airspeed, Angle::new::<radian>(lean_deg.to_radians()))
}
