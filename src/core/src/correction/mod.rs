//! What flights teach: a factor on an airframe's power, with its honest spread.

mod learn;
mod params;
mod posterior;

pub use learn::learn;
pub use params::{Correction, Flown, Odd, Prior, Scatter};
