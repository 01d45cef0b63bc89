//! One battery cell: open-circuit voltage, resistance, and how heat, cold and age change them.
//!
//! Circuit: V = OCV(s) − U − I·R_0(s, T, n); dU/dt = (I·R_1 − U)/τ (bent where learned, see `behaviour`), with R_0 + R_1 the internal resistance.
//! Units: SI inside. Valid: 25 °C curves; −20 to 60 °C by the laws of `behaviour`. Source: equivalent circuit of
//! first order, textbook; each constant's own origin stands at it.

pub mod behaviour;
mod curves;
pub mod learn;
pub mod measure;
pub(crate) mod open_circuit;
pub mod params;

pub(crate) use curves::CURVE_POINTS;

pub use crate::input_error::CellFault;
pub use behaviour::{CellBehaviour, CurveError};
pub use learn::{Learned, Run, RunPoint, learn, predict};
pub use measure::{
    LOADED_PACK_CURRENT, LOADED_PACK_VOLTAGE, LoadReading, MeasuredResistance, resistance_from_ac,
    resistance_from_readings,
};
pub use open_circuit::{open_circuit_voltage, state_of_charge_at_rest};
pub use params::{CellParams, Chemistry};
