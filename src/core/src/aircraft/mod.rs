//! The whole aircraft in steady flight: what each rotor does to carry this mass in this air.

mod damaged;
mod drag;
mod params;
mod speeds;
mod trim;

pub use damaged::DamagedHover;
pub use drag::{LEAN, LEARNING_SPEED, lean_area_from_flight, usual_lean_area, usual_power_area};
pub use params::{Airframe, PowerCorrection};
pub(crate) use speeds::GREATEST_AIRSPEED_M_S;
pub use speeds::{BestSpeeds, best_speeds};
pub use trim::{LevelCeiling, Trim};
