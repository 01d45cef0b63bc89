//! Checks: each value against its limit, with the limit's origin and a state; the verdict names the worst.

pub mod params;

pub use params::{Basis, Check, CheckKind, Figure, State, Thresholds, Verdict};
