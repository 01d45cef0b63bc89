//! What flights teach: a factor on an airframe's power, with its honest spread.

mod from_flights;
mod params;
mod posterior;

pub use from_flights::learn;
pub use params::{Correction, Flown, Odd, Prior, Scatter};
