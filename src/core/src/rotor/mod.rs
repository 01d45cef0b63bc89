//! One rotor: thrust, power and induced velocity.

pub mod params;

pub use params::{Flow, RotorParams};
