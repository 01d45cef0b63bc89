//! Packs in series make strings, strings in parallel make the supply; meters read one string or the bus.

mod fault;
pub mod params;

pub use fault::SupplyFault;
pub use params::{Health, Meter, MeterPlace, Pack, PackString, Supply};
