//! Checks: each value against its limit, with the limit's origin and a state; the verdict names the worst.

mod house;
mod judge;
mod kinds;
pub mod params;

pub use judge::{Band, judge, verdict};
pub use kinds::{CheckKind, Direction, Quantity};
pub use params::{Check, Figure, LimitSource, State, Thresholds, Verdict};
