//! What is flown: the legs of a flight, and the power each asks for.

pub mod params;
mod plan;

pub use params::{Leg, LegDemand, LegKind, Profile};
pub(crate) use plan::LEAST_GROUND_SPEED_M_S;
pub use plan::{Plan, plan};
