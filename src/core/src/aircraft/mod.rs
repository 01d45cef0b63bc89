//! The whole aircraft in steady flight: what each rotor does to carry this mass in this air.

mod params;
mod trim;
mod wind_hold;

pub use params::Airframe;
pub use trim::{LevelCeiling, Trim};
pub use wind_hold::greatest_wind_held;
