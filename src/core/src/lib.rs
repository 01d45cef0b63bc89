//! Physics and decisions of Liftmargin: pure functions over parameter structs.
//!
//! No clock, no I/O, no browser, no global state. The modules are the stations that a setup passes on its
//! way to a card, in this order; each knows only those before it.

pub mod constants;
pub mod input_error;
pub mod input_range;
mod order;
pub mod units;

pub mod air;
pub mod aircraft;
pub mod card;
pub mod cell;
pub mod correction;
pub mod flight;
pub mod frame;
pub mod limits;
pub mod mass;
pub mod motor;
pub mod profile;
pub mod propulsion;
pub mod rotor;
pub mod spread;
pub mod supply;
