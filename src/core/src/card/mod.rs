//! The card: one setup at one site, from air to verdict.

mod beside;
mod cautious;
mod checks;
mod compute;
mod margin;
pub mod params;
mod string_out;

pub use beside::{Beside, LostString, TurnBackRow, TurnBackTable, beside};
pub use cautious::{Cautious, Samples, cautious, sample};
pub use compute::card;
pub use params::{Airframe, Card, Hover, Outcome, Setup};
