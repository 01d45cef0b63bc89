//! The motor and its speed controller as a direct-current circuit.

mod circuit;
pub mod params;

pub use circuit::{MotorPoint, drive};
pub use params::{ControllerParams, MotorParams};

pub(crate) use circuit::{Drive, MotorKernel};
