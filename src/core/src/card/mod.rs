//! The card: one setup at one site, from air to verdict.

pub mod params;

pub use params::{Airframe, Card, Hover, Outcome, Setup};
