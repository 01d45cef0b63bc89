//! Mass and balance: all-up weight and centre of gravity from the items on board.
//!
//! Axes as in `frame`: forward, right, down of the rotor centre.

pub mod params;
mod sum;

pub use params::{Item, MassAndBalance};
pub use sum::sum;
