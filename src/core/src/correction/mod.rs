//! What flights teach: a factor on an airframe's power, with its honest spread.

mod from_flights;
mod one_flight;
mod params;
mod posterior;

pub use from_flights::learn;
pub use one_flight::{power_factor, reading_spread};
pub use params::{Correction, Flown, Odd, Prior, Scatter};
