//! Packs in series make strings, strings in parallel make the supply; meters read one string or the bus.
//!
//! Formula: Thevenin of the strings (`circuit`), each pack an equivalent circuit (`cell`). Units: SI inside.
//! Assumes: all cells of a pack alike; nothing between strings that would stop one charging another.

pub(crate) mod circuit;
mod fault;
mod figures;
pub(crate) mod kernel;
pub mod params;
mod source;
mod validate;
mod wire;

pub use circuit::{Share, Sharing, share_load};
pub use fault::SupplyFault;
pub use params::{Health, Meter, MeterPlace, Pack, PackString, Supply};
pub use source::Source;
pub use wire::{WIRE_GAUGE, WIRE_LENGTH, WIRE_TEMPERATURE, lead_resistance};
