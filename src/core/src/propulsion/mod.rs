//! One propulsion unit: rotor, motor and speed controller, learned from the maker's bench table.

mod fault;
pub mod params;

pub use fault::BenchFault;
pub use params::{
    BenchRow, BenchTable, Declared, Evidence, OperatingPoint, PropulsionUnit, ThrustCeiling, ThrustLimit,
};
