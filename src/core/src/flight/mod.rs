//! The flight: the legs' power drawn from the supply at constant power, with sag in the loop.
//!
//! Formula: I from P = I·V(I, state) at each moment (`supply::circuit`); state carried on by the midpoint rule with
//! the RC branch exact. Units: SI inside. Valid in the ranges of `Supply`, `LegDemand`, `ReservePolicy`.
//! Assumes: a leg's power does not depend on the bus voltage; warming in flight helps nothing (`supply::kernel`).

mod breach;
mod energy;
mod for_time;
mod forecast;
mod longest;
pub mod params;
mod record;
mod search;
mod segment;
mod string_lost;
mod warm;

pub use energy::{EnergyBalance, energy_balance};
pub use for_time::{TimedFlight, UsedInFlight};
pub use forecast::{CellForecast, CellTask, forecast};
pub use longest::{FlightTask, LongestFlight, fly, fly_brief, fly_with};
pub use params::{
    BriefFlight, Extremes, Flight, FlightLimit, FlightSettings, LEG_DURATION, LEG_POWER, LEGS, MeterMarks,
    NoFlight, ON_SET_POWER, ReservePolicy, Sample, StringSample,
};
pub use string_lost::{FirstFailure, LossMoment, LossOutcome, StringLoad, StringLost, string_lost};
pub use warm::{WarmGain, warm_pack_gain};
