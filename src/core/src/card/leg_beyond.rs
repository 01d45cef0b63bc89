//! The legs that the aircraft cannot fly at the speed planned for them.
//!
//! Formula   out to the set with fresh packs, home with those at land-by: the airspeed against what is held there as in a gust;
//!           up: the climb rate against what fresh packs leave with as much kept for control as in a gust
//! Units     m/s
//! Source    `wind_held` and `margin`; no outside model
//! Valid     as `wind_held`: advance ratios up to 0.2
//! Assumes   the way home is flown with the packs at land-by: later, so weaker, than they are on it. An aircraft that cannot even hold
//!           calm air with that much kept for control is told by its checks, not by a leg

use super::margin::greatest_climb_rate;
use super::prepared::{InHand, Prepared};
use super::wind_held::{WindHeld, WindLimit};
use crate::input_error::InputError;
use crate::profile::LegKind;
use crate::supply::Source;
use crate::units::{Ratio, Velocity};

/// A leg that cannot be flown as planned.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LegBeyond {
    /// Climb, transit (the way out) or return (the way home).
    pub leg: LegKind,
    /// Airspeed of the plan, or climb rate.
    pub planned: Velocity,
    /// The most that the aircraft can fly there.
    pub greatest: Velocity,
    /// What ends it.
    pub limit: WindLimit,
}

impl Prepared<'_> {
    /// The first leg of the way to the set that fresh packs cannot fly as planned.
    ///
    /// # Errors
    /// As `card`.
    pub(super) fn outbound_beyond(
        &self,
        start: &Source,
        fresh: &InHand,
    ) -> Result<Option<LegBeyond>, InputError> {
        let profile = &self.setup.profile;
        if profile.height.value > 0.0
            && let Some(beyond) = self.climb_beyond(fresh)?
        {
            return Ok(Some(beyond));
        }
        let control_share = self.thresholds.gust_control_share;
        let is_flown = profile.distance.value <= 0.0
            || self.against(start, control_share).holds(&self.trim, profile.transit_airspeed);
        Ok(if is_flown {
            None
        } else {
            self.transit_beyond(LegKind::Transit, self.wind_held(start, control_share))
        })
    }

    fn climb_beyond(&self, fresh: &InHand) -> Result<Option<LegBeyond>, InputError> {
        let planned = self.setup.profile.climb_rate;
        let (density, bus) = (self.set_air.density, fresh.level_voltage);
        let kept = 1.0 + self.thresholds.gust_control_share.value;
        let in_doubt = self.uncertainty.cautious_thrust_to_weight(Ratio::from(1.0)).value;
        let at = self.trim.ceiling(density, bus, planned, Some(&fresh.level))?;
        if at.thrust * in_doubt >= self.trim.weight() * kept {
            return Ok(None);
        }
        let share = Ratio::from(kept / in_doubt - 1.0);
        let greatest = greatest_climb_rate(&self.trim, density, (&fresh.level, bus), share)?;
        let limit = WindLimit::Thrust(at.ruled_by);
        let is_leg = greatest.value > 0.0 && greatest < planned;
        Ok(is_leg.then_some(LegBeyond { leg: LegKind::Climb, planned, greatest, limit }))
    }

    /// The transit leg where more airspeed is planned than is `held`.
    pub(super) fn transit_beyond(&self, leg: LegKind, held: Option<WindHeld>) -> Option<LegBeyond> {
        let profile = &self.setup.profile;
        let WindHeld { wind: greatest, limit } = held?;
        let planned = profile.transit_airspeed;
        (profile.distance.value > 0.0 && planned > greatest).then_some(LegBeyond {
            leg,
            planned,
            greatest,
            limit,
        })
    }
}
