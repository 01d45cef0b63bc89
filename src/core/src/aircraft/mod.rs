//! The whole aircraft in steady flight: what each rotor does to carry this mass in this air.

mod damaged;
mod params;
mod speeds;
mod trim;
mod wind_hold;

pub use damaged::DamagedHover;
pub use params::Airframe;
pub(crate) use speeds::GREATEST_AIRSPEED_M_S;
pub use speeds::{BestSpeeds, best_speeds};
pub use trim::{LevelCeiling, Trim};
pub use wind_hold::greatest_wind_held;
