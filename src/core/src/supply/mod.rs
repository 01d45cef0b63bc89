//! Packs in series make strings, strings in parallel make the supply; meters read one string or the bus.
//!
//! Formula: Thevenin of the strings (`sharing`), each pack an equivalent circuit (`cell`). Units: SI inside.
//! Assumes: all cells of a pack alike; nothing between strings that would stop one charging another.

mod figures;
pub(crate) mod joined;
pub(crate) mod pack_unit;
pub mod params;
pub(crate) mod sharing;
mod source;
mod validate;
mod wire;

pub use crate::input_error::SupplyFault;
pub use params::{Health, Meter, MeterPlace, Pack, PackString, Supply};
pub use sharing::{Share, Sharing, share_load};
pub use source::Source;
pub use wire::{WIRE_GAUGE, WIRE_LENGTH, WIRE_TEMPERATURE, lead_resistance};
