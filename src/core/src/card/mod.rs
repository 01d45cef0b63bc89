//! The card: one setup at one site, from air to verdict.

mod cautious;
mod checks;
mod contingency;
mod first_cautious;
mod greatest_wind;
mod judgement;
mod leg_beyond;
mod margin;
pub mod params;
mod prepared;
mod rotors_stopped;
mod string_out;
mod wind_held;
mod worst_rotor;

pub use cautious::{Cautious, Sampler, Samples};
pub use contingency::{Contingencies, LostString, TurnBackRow, TurnBackTable};
pub use first_cautious::FirstCautious;
pub use greatest_wind::{GreatestWind, GreatestWindSearch, WindEnd, gust_with};
pub use judgement::Judgement;
pub use leg_beyond::LegBeyond;
pub use params::{Airframe, Card, Hover, Outcome, Setup};
pub use prepared::{Prepared, card};
pub use rotors_stopped::{RotorsStopped, StoppedHover, rotors_stopped};
pub use wind_held::{WindHeld, WindInHand, WindLimit};
pub use worst_rotor::{WorstRotorOut, worst_rotor_out};
