//! The worst rotor to lose: what the rest can hold at this weight, and how the check stands.
//!
//! Formula   thrust-to-weight with a rotor stopped = thrust-to-weight · greatest level thrust of the rest over that of all
//! Units     dimensionless
//! Source    `frame::level_hold`; what is judged: common practice, no source
//! Valid     a setup whose thrust-to-weight is known
//! Assumes   every rotor at work gives the same greatest thrust; a static figure, silent about the first second

use crate::frame::{Capability, Layout, Position, level_hold, rotor_out_all};
use crate::input_error::InputError;
use crate::limits::{Check, CheckKind, Figure, LimitSource, State, Thresholds};
use crate::units::Ratio;
use uom::si::ratio::ratio;

/// Rotors up to which no layout can hold level with one stopped: that is known of the type, and watched, not refused.
const NONE_TO_SPARE: usize = 4;

/// The worst rotor to lose.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WorstRotorOut {
    /// The rotor, from 0.
    pub failed: usize,
    /// What can be held with it stopped.
    pub capability: Capability,
    /// Thrust over weight while the heading is held; zero where it cannot be.
    pub with_heading: Ratio,
    /// Thrust over weight level, turning if that gives more; zero where level cannot be held.
    pub level: Ratio,
    /// How it stands.
    pub state: State,
}

impl WorstRotorOut {
    /// Whether the heading can be held at this weight.
    pub fn holds_heading(&self) -> bool {
        self.with_heading.value >= 1.0
    }

    /// Thrust over weight in the best way that carries the weight: heading held, else turning.
    pub fn thrust_to_weight(&self) -> Ratio {
        if self.holds_heading() { self.with_heading } else { self.level }
    }

    /// As a check.
    pub(super) fn check(&self) -> Check {
        let (value, limit) = (self.thrust_to_weight(), Ratio::new::<ratio>(1.0));
        Check {
            kind: CheckKind::RotorOut,
            state: self.state,
            value: Some(Figure::Ratio(value)),
            limit: Figure::Ratio(limit),
            source: LimitSource::Physics,
            margin: Some(value - limit),
        }
    }
}

/// The rotor whose loss leaves least, with `thrust_to_weight` while all rotors work.
///
/// # Errors
/// As `frame::level_hold`.
pub fn worst_rotor_out(
    layout: &Layout,
    centre_of_gravity: &Position,
    thrust_to_weight: Ratio,
    thresholds: &Thresholds,
) -> Result<Option<WorstRotorOut>, InputError> {
    let all = level_hold(layout, centre_of_gravity, &[])?.greatest_turning;
    let one = |out: crate::frame::RotorOut| {
        let over_weight = |share: Ratio| share / all * thrust_to_weight;
        let (with_heading, level) = (over_weight(out.hold.with_heading()), over_weight(out.hold.level()));
        let capability = out.hold.capability;
        let is_spared = layout.places.len() > NONE_TO_SPARE;
        let state = match capability {
            Capability::CannotHoldLevel if is_spared => State::No,
            Capability::HoldsLevelAndHeading if with_heading >= thresholds.failure_thrust_fine => State::Fine,
            Capability::CannotHoldLevel
            | Capability::HoldsLevelTurning { .. }
            | Capability::HoldsLevelAndHeading => State::Watch,
        };
        WorstRotorOut { failed: out.failed, capability, with_heading, level, state }
    };
    let outs = rotor_out_all(layout, centre_of_gravity)?.into_iter().map(one);
    Ok(outs.reduce(|worst, next| if is_worse(&next, &worst) { next } else { worst }))
}

fn is_worse(next: &WorstRotorOut, worst: &WorstRotorOut) -> bool {
    let rank = |out: &WorstRotorOut| (out.state, !out.holds_heading());
    rank(next) > rank(worst)
        || (rank(next) == rank(worst)
            && next.thrust_to_weight().value < worst.thrust_to_weight().value - 1e-9)
}
