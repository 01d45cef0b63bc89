//! A day of flights, pack sets and chargers: who waits for what, when, and what ends it.
//!
//! Formula   flights in the order given; flight n starts at f_n = max(e_n, f_{n−1} + d_{n−1} + turn-round, R_m + warm-up), R_m the
//!           m-th earliest moment at which a set of its kind stands charged, m its number among the flights of that kind;
//!           its set cools, then is charged in the order of landing: s_n = the first moment from
//!           max(landing + cool-down, s_{n−1}) on with a charger free and power left, for the time the charge takes
//! Units     whole seconds since midnight, W; a time is rounded up to the second
//! Source    queue first come, first served with many servers: Kiefer and Wolfowitz 1955 (from memory). That every moment is a
//!           maximum, a sum or an order statistic of earlier ones, so that one more set, one more charger, more power or a
//!           shorter charge never makes any moment later, is our own argument below
//! Valid     up to 500 flights, 200 sets of a kind, 200 chargers; two days
//! Checked   tests/references/day (30 days by an independent discrete-event library, to the second), days worked by hand,
//!           properties over thousands of generated days (tests/it/day_properties.rs)
//! Assumes   all sets stand charged at the start or from when they arrive; a set is charged whole, on one charger, after each
//!           flight; one crew flies one aircraft after another; no wait is cut short by taking a set that is not full
//!
//! Why nothing overtakes: list schedules that take whoever is ready can finish *later* with one more machine (Graham's
//! anomalies). Here the order of flights is the crew's, the queue at the chargers is the order of landing, a charge belongs to
//! the flight that emptied the set and takes as long on any charger, and its power never rises while it lasts. Then an earlier
//! start moves everything after it earlier or not at all. The day ends with the first flight that would not land by wrap: a
//! shorter one behind it is not pulled forward, since that would break the same promise.

mod counts;
pub mod params;
mod queue;
mod stall;
mod timeline;

pub use crate::input_error::DayFault;
pub use params::{
    Bottleneck, ChargeStep, DayEvent, DayEventKind, DayFlight, DayPlan, DaySchedule, SetKind, Stall,
    SupplyStep,
};
pub use timeline::schedule;
