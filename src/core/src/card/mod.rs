//! The card: one setup at one site, from air to verdict.

mod cautious;
mod checks;
mod compute;
mod margin;
pub mod params;
mod string_out;

pub use cautious::{Cautious, cautious};
pub use compute::card;
pub use params::{Airframe, Card, Hover, Outcome, Setup};
