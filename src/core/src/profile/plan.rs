//! The legs of a flight and the power each asks for.
//!
//! Formula   leg times from heights, distances and speeds; powers from the trimmed aircraft
//! Units     s, W, m, m/s
//! Source    flight mechanics of `aircraft`; the shares named below are common practice, no source
//! Valid     inside the bounds of `Profile` and `Site`
//! Assumes   climb and descent vertical in still air, the set downwind of the launch site (so the way home
//!           is against the wind), no relief of hover power by wind or ground: all on the cautious side

use super::params::{Leg, LegDemand, LegKind, Profile};
use crate::air::{Site, air_above, wind_at};
use crate::aircraft::Trim;
use crate::input_error::InputError;
use crate::units::{Length, MassDensity, Power, Time, Velocity};
use uom::si::velocity::meter_per_second;

/// Motor power on the ground before lift-off over hover power: common practice, no source.
const WARM_UP_POWER_SHARE: f64 = 0.1;
/// Least speed over ground on the way home that still counts as getting home: common practice, no source.
pub(crate) const LEAST_GROUND_SPEED_M_S: f64 = 1.0;

/// A planned flight, or why there is no way home.
#[derive(Debug, Clone, PartialEq)]
pub enum Plan {
    /// The legs.
    Legs(LegDemand),
    /// The wind at the set's height is too strong for the transit airspeed.
    NoWayHome {
        /// Airspeed in transit.
        airspeed: Velocity,
        /// Mean wind at the set's height.
        wind: Velocity,
    },
}

/// Plans the flight of a trimmed aircraft at a site.
///
/// # Errors
/// `InputError` where profile or site miss a bound or the aircraft's propulsion refuses.
pub fn plan(trim: &Trim<'_>, site: &Site, profile: &Profile) -> Result<Plan, InputError> {
    profile.validate()?;
    let wind = wind_at(site.wind, profile.height);
    let Some(transit) = TransitTimes::of(profile, wind) else {
        return Ok(Plan::NoWayHome { airspeed: profile.transit_airspeed, wind });
    };
    let still = Velocity::default();
    let ground = air_above(site, Length::default())?.density;
    let set = air_above(site, profile.height)?.density;
    let hover = trim.power(ground, still, still)?;
    let climb = trim.power(ground, still, profile.climb_rate)?;
    let on_set = on_set(trim, set, wind)? * (1.0 + profile.manoeuvre_allowance.value);
    let cruise = trim.power(set, profile.transit_airspeed, still)?;
    let descent = trim.power(ground, still, -profile.descent_rate)?;
    let leg = |kind, duration, power| Leg { kind, duration, power };
    Ok(Plan::Legs(LegDemand {
        outbound: flown([
            leg(LegKind::WarmUp, profile.warm_up, hover * WARM_UP_POWER_SHARE),
            leg(LegKind::Climb, profile.height / profile.climb_rate, climb),
            leg(LegKind::Transit, transit.out, cruise),
        ]),
        on_set,
        homebound: flown([
            leg(LegKind::Return, transit.home, cruise),
            leg(LegKind::Descent, profile.height / profile.descent_rate, descent),
            leg(LegKind::GoAround, profile.go_around, climb),
            leg(LegKind::Landing, profile.landing, hover),
        ]),
    }))
}

/// Holding a place against the wind; never less than still-air hover, whose power is the greater in light wind.
fn on_set(trim: &Trim<'_>, density: MassDensity, wind: Velocity) -> Result<Power, InputError> {
    let still = Velocity::default();
    let hover = trim.power(density, still, still)?;
    let holding = trim.power(density, wind, still)?;
    Ok(if holding > hover { holding } else { hover })
}

fn flown<const N: usize>(legs: [Leg; N]) -> Vec<Leg> {
    legs.into_iter().filter(|leg| leg.duration.value > 0.0).collect()
}

struct TransitTimes {
    out: Time,
    home: Time,
}

impl TransitTimes {
    fn of(profile: &Profile, wind: Velocity) -> Option<Self> {
        let distance = profile.distance;
        if distance.value == 0.0 {
            let none = Time::default();
            return Some(Self { out: none, home: none });
        }
        let ground_speed = profile.transit_airspeed - wind;
        (ground_speed.get::<meter_per_second>() >= LEAST_GROUND_SPEED_M_S).then(|| Self {
            out: distance / (profile.transit_airspeed + wind),
            home: distance / ground_speed,
        })
    }
}
