//! One propulsion unit: rotor, motor and speed controller, learned from the maker's bench table.

mod curve;
mod estimate;
mod fit;
mod operate;
mod other_rotor;
mod pair;
pub mod params;
mod performance;
mod root;

pub use crate::input_error::{BenchColumn, BenchFault, ThrustLimit, UnitFault, UnitMixUp};
pub use curve::{CurvePoint, curve};
pub use estimate::estimate;
pub use fit::{Fit, FitNote, RowResidual, fit};
pub use operate::{ceiling, operate};
pub use other_rotor::{is_another_rotor, on_another_rotor};
pub use pair::{PairRule, operate_pair, pair_ceiling, split_pair};
pub use params::{
    BenchRow, BenchTable, Declared, Evidence, OperatingPoint, OtherRotor, PropulsionUnit, ThrustCeiling,
};
pub use performance::{Performance, Spread, performance};

pub use crate::rotor::CoaxialParams;
