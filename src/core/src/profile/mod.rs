//! What is flown: the legs of a flight, and the power each asks for.

pub mod params;

pub use params::{Leg, LegDemand, LegKind, Profile};
