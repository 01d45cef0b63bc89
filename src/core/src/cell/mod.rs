//! One battery cell: open-circuit voltage, resistance, and how heat, cold and age change them.

pub mod params;

pub use params::{CellParams, Chemistry};
