//! The card: one setup at one site, from air to verdict.

mod cautious;
mod checks;
mod compute;
mod contingency;
mod margin;
pub mod params;
mod rotor_out;
mod rotors_stopped;
mod string_out;

pub use cautious::{Cautious, Samples, cautious, sample};
pub use compute::card;
pub use contingency::{Contingencies, LostString, TurnBackRow, TurnBackTable, contingencies};
pub use params::{Airframe, Card, Hover, Outcome, Setup};
pub use rotor_out::{WorstRotorOut, worst_rotor_out};
pub use rotors_stopped::{RotorsStopped, StoppedHover, rotors_stopped};
