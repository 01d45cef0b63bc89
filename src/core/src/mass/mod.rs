//! Mass and balance: all-up weight and centre of gravity from the items on board, and how to balance them.
//!
//! Axes as in `frame`: forward, right, down of the rotor centre.

mod notes;
pub mod params;
mod slide;
mod sum;

pub use crate::input_error::BalanceFault;
pub use notes::{MASS_NOTES, MassNote, MassNoteState, mass_notes};
pub use params::{Item, MassAndBalance};
pub use slide::{Slide, slide_to, slide_to_balance};
pub use sum::sum;
