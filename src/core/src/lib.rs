//! Physics and decisions of Liftmargin: pure functions over parameter structs.
//!
//! No clock, no I/O, no browser, no global state. A setup passes stations on its way to a card; each knows the ground
//! and those before it (held by `tests/it/tidy.rs`):
//!
//! Ground: constants, keyed, units, input_range, input_error.
//! Stations: air → rotor → motor → propulsion → frame → mass → aircraft → cell → supply → profile → flight → limits → correction → airborne → spread → card → day → charge → packs.

pub mod constants;
pub mod input_error;
pub mod input_range;
mod keyed;
pub mod units;

pub mod air;
pub mod airborne;
pub mod aircraft;
pub mod card;
pub mod cell;
pub mod charge;
pub mod correction;
pub mod day;
pub mod flight;
pub mod frame;
pub mod limits;
pub mod mass;
pub mod motor;
pub mod packs;
pub mod profile;
pub mod propulsion;
pub mod rotor;
pub mod spread;
pub mod supply;
