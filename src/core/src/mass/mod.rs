//! Mass and balance: all-up weight and centre of gravity from the items on board.

pub mod params;

pub use params::{Item, MassAndBalance};
