//! The flight: the legs' power drawn from the supply at constant power, with sag in the loop.
//!
//! Formula: I from P = I·V(I, state) at each moment (`supply::circuit`); state carried on by the midpoint rule with
//! the RC branch exact. Units: SI inside. Valid in the ranges of `Supply`, `LegDemand`, `ReservePolicy`.
//! Assumes: a leg's power does not depend on the bus voltage; warming in flight helps nothing (`supply::kernel`).

mod breach;
mod longest;
pub mod params;
mod record;
mod search;
mod walk;

pub use longest::{fly, fly_brief, fly_with};
pub use params::{
    BriefFlight, Extremes, Flight, FlightLimit, FlightSettings, MeterMarks, NoFlight, ReservePolicy, Sample,
    StringSample,
};
