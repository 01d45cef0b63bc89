//! Holding a value against its limit.
//!
//! Formula   room = value / least − 1, or 1 − value / greatest; temperatures: distance to the limit per 100 K
//! Units     the figure's own
//! Source    none: bookkeeping
//! Valid     positive limits
//! Assumes   nothing

use super::params::{Check, CheckKind, Figure, LimitSource, State, Verdict};
use crate::order::sorted;
use crate::units::Ratio;
use uom::si::ratio::ratio;

/// Where a check turns from fine to watch, and from watch to no.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Band {
    /// Fine from `fine` upwards, no below `limit`.
    AtLeast {
        /// Fine from here.
        fine: Figure,
        /// No below this.
        limit: Figure,
    },
    /// Fine up to `fine`, no above `limit`.
    AtMost {
        /// Fine up to here.
        fine: Figure,
        /// No above this.
        limit: Figure,
    },
}

impl Figure {
    fn si(self) -> f64 {
        match self {
            Self::Ratio(q) => q.value,
            Self::Mass(q) => q.value,
            Self::Current(q) => q.value,
            Self::CellVoltage(q) => q.value,
            Self::Temperature(q) => q.value,
            Self::Speed(q) => q.value,
            Self::Length(q) => q.value,
            Self::Time(q) => q.value,
            Self::Power(q) => q.value,
        }
    }

    /// Room from `self` up to `greater`.
    fn room_below(self, greater: Self) -> Ratio {
        let share = match self {
            Self::Temperature(_) => (greater.si() - self.si()) / 100.0,
            _ => 1.0 - self.si() / greater.si(),
        };
        Ratio::new::<ratio>(share)
    }

    /// Room from `self` down to `less`.
    fn room_above(self, less: Self) -> Ratio {
        let share = match self {
            Self::Temperature(_) => (self.si() - less.si()) / 100.0,
            _ => self.si() / less.si() - 1.0,
        };
        Ratio::new::<ratio>(share)
    }
}

/// Holds `value` against `band`; without a value the check says no.
pub fn judge(kind: CheckKind, value: Option<Figure>, band: Band, basis: LimitSource) -> Check {
    let limit = match band {
        Band::AtLeast { limit, .. } | Band::AtMost { limit, .. } => limit,
    };
    let Some(figure) = value else {
        return Check { kind, state: State::No, value, limit, basis, room: None };
    };
    let (room, is_fine) = match band {
        Band::AtLeast { fine, limit } => (figure.room_above(limit), figure.si() >= fine.si()),
        Band::AtMost { fine, limit } => (figure.room_below(limit), figure.si() <= fine.si()),
    };
    let state = match (is_fine, room.value >= 0.0) {
        (_, false) => State::No,
        (true, true) => State::Fine,
        (false, true) => State::Watch,
    };
    Check { kind, state, value, limit, basis, room: Some(room) }
}

impl Check {
    /// A thing that is never a refusal by itself: beyond the limit it is to be watched.
    #[must_use]
    pub fn watch_at_most(mut self) -> Self {
        self.state = self.state.min(State::Watch);
        self
    }
}

/// Sorts the checks worst first and names the worst.
pub fn verdict(checks: &mut Vec<Check>) -> Verdict {
    *checks = sorted(checks, |check| {
        let worst_first = match check.state {
            State::No => 0,
            State::Watch => 1,
            State::Fine => 2,
        };
        // The flight is planned down to the reserve: that no more is left says nothing.
        let as_planned = check.kind == CheckKind::Reserve && check.state == State::Fine;
        let room = check.room.map_or(f64::NEG_INFINITY, |room| room.value);
        (worst_first, if as_planned { f64::INFINITY } else { room })
    });
    match checks.first() {
        Some(first) => Verdict { state: first.state, worst: Some(first.kind) },
        None => Verdict { state: State::Fine, worst: None },
    }
}
