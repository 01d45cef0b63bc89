//! The greatest wind in which all margins are kept, in words.

use liftmargin_core::card::{GreatestWind, WindEnd, WindLimit};
use liftmargin_core::limits::CheckKind;
use liftmargin_core::units::Velocity;

use super::{checks, lower_first, thrust_limit};
use crate::present::answer::{Shown, Toward, stepped};
use crate::present::unit::Unit;
use crate::present::units::{Choice, Units};

/// What is reckoned with it, for the page that shows it.
pub const GLOSS: &str = "The greatest mean wind at 10 m above ground in which no check says no, with the gusts that go with it: \
    as far above the mean as at the site, and at least 1.66 times the mean.";

/// A wind that can be worked in, rounded down.
pub fn in_hand(speed: Velocity, units: Units) -> Shown {
    let unit = units.get(Choice::Speed);
    let step = if unit == Unit::MetrePerSecond { 0.5 } else { 1.0 };
    stepped(speed.value, unit, step, Toward::Down, units)
}

/// "up to 7 m/s, gusts 11.5 m/s".
pub fn greatest(wind: Option<&GreatestWind>, units: Units) -> String {
    match wind {
        None => "not even calm air".to_owned(),
        Some(wind) => format!("up to {}, gusts {}", in_hand(wind.mean, units), in_hand(wind.gust, units)),
    }
}

/// What ends it, to follow "Beyond:".
pub fn ends(end: WindEnd) -> String {
    match end {
        WindEnd::Check(CheckKind::ComesHome, _) => "too few flights come home as planned".to_owned(),
        WindEnd::Check(kind, limit) => {
            let name = lower_first(checks::name(kind));
            limit.map_or(name.clone(), |limit| format!("{name} ({})", held_limit(limit)))
        }
        WindEnd::NoWayHome => "no way home against the wind".to_owned(),
        WindEnd::NoFlight => "the packs do not carry it out and home".to_owned(),
        WindEnd::Range => "more is not reckoned with".to_owned(),
    }
}

/// What ends the wind that is held, or the speed that is flown.
pub(super) fn held_limit(limit: WindLimit) -> String {
    match limit {
        WindLimit::Thrust(limit) => lower_first(thrust_limit(limit)),
        WindLimit::Packs => "the packs cannot feed it".to_owned(),
        WindLimit::Tilt => "the lean that the flight controller allows".to_owned(),
        WindLimit::Flow => "faster flow along the rotors than was ever checked".to_owned(),
        WindLimit::Nothing => "nothing".to_owned(),
    }
}
