//! What a change comes to: a figure before and after, and whether that is for the better.
//!
//! The change is the difference of the two shown figures, so that a reader can check it, and so is what it is for.

use liftmargin_core::units::{ElectricCharge, Ratio, Time};

use super::answer::{self, Toward, round_to};
use super::number::write;
use super::units::Units;

/// Which way a change goes for the flight.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// For the better.
    Better,
    /// For the worse.
    Worse,
    /// Not to be seen after rounding.
    Same,
}

impl Way {
    /// Of steps gained, where more is better.
    pub(super) const fn more_is_better(steps: i64) -> Self {
        match steps {
            1.. => Self::Better,
            0 => Self::Same,
            _ => Self::Worse,
        }
    }
}

/// A figure before and after, as shown.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BeforeAfter {
    /// Before.
    pub before: String,
    /// After.
    pub after: String,
    /// The change, "−1 min 20 s".
    pub change: String,
    /// Which way it goes.
    pub way: Way,
}

impl BeforeAfter {
    /// Of flight times: longer is better.
    pub fn time(before: Time, after: Time) -> Self {
        Self {
            before: answer::time(before),
            after: answer::time(after),
            change: answer::time_change(before, after),
            way: Way::more_is_better(answer::whole_seconds(after) - answer::whole_seconds(before)),
        }
    }

    /// Of readings to land by: more to fly with is better.
    pub fn charge(before: ElectricCharge, after: ElectricCharge, units: Units) -> Self {
        Self {
            before: answer::charge(before, units).to_string(),
            after: answer::charge(after, units).to_string(),
            change: answer::charge_change(before, after, units),
            way: Way::more_is_better(answer::whole_mah(after) - answer::whole_mah(before)),
        }
    }

    /// Of thrust-to-weight: more is better.
    pub fn thrust_to_weight(before: Ratio, after: Ratio, units: Units) -> Self {
        const STEP: f64 = 0.1;
        let steps = |ratio: Ratio| (round_to(ratio.value, STEP, Toward::Down) / STEP).round() as i64;
        let gained = steps(after) - steps(before);
        let words = write(gained as f64 * STEP, 1, units.decimal_mark());
        Self {
            before: answer::thrust_to_weight(before, units).to_string(),
            after: answer::thrust_to_weight(after, units).to_string(),
            change: match gained {
                0 => "no change".to_owned(),
                1.. => format!("+{words}"),
                _ => words,
            },
            way: Way::more_is_better(gained),
        }
    }
}
