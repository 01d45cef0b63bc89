//! Checks: each value against its limit, with the limit's origin and a state; the verdict names the worst.

mod house;
mod judge;
pub mod params;

pub use judge::{Band, judge, verdict};
pub use params::{Check, CheckKind, Figure, LimitSource, State, Thresholds, Verdict};
