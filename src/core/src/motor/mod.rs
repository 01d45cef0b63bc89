//! The motor and its speed controller as a direct-current circuit.

pub mod params;

pub use params::{ControllerParams, MotorParams};
