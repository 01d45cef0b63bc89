//! Air at the site: what the rotors and the wind work with.

pub mod params;

pub use params::{Air, Site};
