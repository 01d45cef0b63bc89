//! Holding a value against its limit.
//!
//! Formula   margin = value / floor − 1, or 1 − value / ceiling; temperatures: distance to the limit per 100 K
//! Units     the figure's own
//! Source    none: bookkeeping
//! Valid     positive limits
//! Assumes   nothing

use super::kinds::{CheckKind, Direction, Quantity};
use super::params::{Check, Figure, LimitSource, State, Verdict};
use crate::units::Ratio;
use uom::si::ratio::ratio;

/// Where a check turns from fine to watch, and from watch to no; which side is which the kind knows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Band {
    /// Fine up to here, coming from the good side.
    pub fine: Figure,
    /// No beyond this.
    pub limit: Figure,
}

/// Holds `value` against `band`; without a value the check says no.
pub fn judge(kind: CheckKind, value: Option<Figure>, band: Band, source: LimitSource) -> Check {
    let limit = band.limit;
    let Some(figure) = value else {
        return Check { kind, state: State::No, value, limit, source, margin: None };
    };
    let inside = |of: Figure, bound: Figure| match kind.direction() {
        Direction::Floor => of.si() - bound.si(),
        Direction::Ceiling => bound.si() - of.si(),
    };
    let whole = match kind.quantity() {
        // A share of a kelvin scale's own zero says nothing.
        Quantity::Temperature => 100.0,
        Quantity::Ratio
        | Quantity::Share
        | Quantity::Mass
        | Quantity::Current
        | Quantity::CellVoltage
        | Quantity::Speed
        | Quantity::VerticalSpeed => limit.si(),
    };
    let state = if inside(figure, band.fine) >= 0.0 && inside(figure, limit) >= 0.0 {
        State::Fine
    } else if inside(figure, limit) >= 0.0 {
        State::Watch
    } else {
        State::No
    };
    let margin = if whole > 0.0 { inside(figure, limit) / whole } else { 0.0 };
    Check { kind, state, value, limit, source, margin: Some(Ratio::new::<ratio>(margin)) }
}

impl Check {
    /// A thing that is never a refusal by itself: beyond the limit it is to be watched.
    #[must_use]
    pub fn watch_at_most(mut self) -> Self {
        self.state = self.state.min(State::Watch);
        self
    }
}

/// Margins are told apart by a billionth: which of two alike comes first is not for the last bit of a search to say, or for the
/// mathematics library of a machine.
const MARGINS_APART: f64 = 1e-9;

/// Sorts the checks worst first, alike ones in the order they came, and names the worst.
pub fn verdict(checks: &mut [Check]) -> Verdict {
    let margin = |check: &Check| {
        // The flight is planned down to the reserve: that no more is left says nothing.
        let as_planned = check.kind == CheckKind::Reserve && check.state == State::Fine;
        let margin = check.margin.map_or(f64::NEG_INFINITY, |margin| margin.value);
        if as_planned { f64::INFINITY } else { (margin / MARGINS_APART).round() }
    };
    checks.sort_by(|a, b| b.state.cmp(&a.state).then(margin(a).total_cmp(&margin(b))));
    match checks.first() {
        Some(first) => Verdict { state: first.state, worst: Some(first.kind) },
        None => Verdict { state: State::Fine, worst: None },
    }
}
