//! Round ticks for an axis.
//!
//! Formula: the step is 1, 2 or 5 times a power of ten, the smallest that gives no more than the wished intervals.
//! Units: any. Source: common practice, no source. Valid: finite ends.

/// Ticks of an axis, and its ends widened to whole steps.
#[derive(Debug, Clone, PartialEq)]
pub struct Axis {
    /// Low end, a tick.
    pub low: f64,
    /// High end, a tick, above `low`.
    pub high: f64,
    /// Distance of ticks.
    pub step: f64,
    /// The ticks, both ends with them.
    pub ticks: Vec<f64>,
    /// Decimals that tell the ticks apart.
    pub decimals: usize,
}

impl Axis {
    /// Place of a value along the axis, 0 at `low`, 1 at `high`.
    pub fn place(&self, value: f64) -> f64 {
        (value - self.low) / (self.high - self.low)
    }

    /// The value at a place along the axis.
    pub fn value(&self, place: f64) -> f64 {
        self.low + place * (self.high - self.low)
    }
}

/// An axis that holds both values in at most `intervals` steps (at least 1), more by one or two where the ends
/// are widened.
pub fn axis(one: f64, other: f64, intervals: usize) -> Axis {
    let (low, high) = ends(one, other);
    let step = round_step((high - low) / intervals.max(1) as f64);
    let first = (low / step + 1e-9).floor();
    let last = (high / step - 1e-9).ceil().max(first + 1.0);
    let count = (last - first) as usize;
    let ticks: Vec<f64> = (0..=count).map(|index| (first + index as f64) * step).collect();
    let decimals = (-step.log10()).ceil().max(0.0) as usize;
    Axis { low: first * step, high: last * step, step, ticks, decimals }
}

/// Only the ticks inside an axis with fixed ends: for an axis that must begin and end at its data.
pub fn axis_with_ends(low: f64, high: f64, intervals: usize) -> Axis {
    let (low, high) = ends(low, high);
    let mut axis = axis(low, high, intervals);
    axis.ticks.retain(|tick| *tick >= low - 1e-9 * axis.step && *tick <= high + 1e-9 * axis.step);
    axis.low = low;
    axis.high = high;
    axis
}

/// In order, finite and apart.
fn ends(one: f64, other: f64) -> (f64, f64) {
    let (one, other) = if one.is_finite() && other.is_finite() { (one, other) } else { (0.0, 1.0) };
    let (low, high) = if one <= other { (one, other) } else { (other, one) };
    let least_span = (low.abs() + high.abs()) * 1e-6;
    if high - low > least_span { (low, high) } else { (low, low + low.abs().max(1.0)) }
}

fn round_step(raw: f64) -> f64 {
    let power = 10_f64.powf(raw.log10().floor());
    let lead = raw / power;
    let rounded = [1.0, 2.0, 5.0].into_iter().find(|round| lead <= round + 1e-9).unwrap_or(10.0);
    rounded * power
}
