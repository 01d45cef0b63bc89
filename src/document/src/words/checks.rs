//! Checks and the verdict in plain words.

use liftmargin_core::limits::{Check, CheckKind, Direction, Figure, LimitSource, Quantity, State, Verdict};
use liftmargin_core::units::Ratio;

use super::lower_first;
use crate::present::answer::{Toward, stepped};
use crate::present::unit::Unit;
use crate::present::units::{Choice, Units};

/// Name of a check.
pub const fn name(kind: CheckKind) -> &'static str {
    match kind {
        CheckKind::ThrustToWeightFresh => "Thrust-to-weight, full packs",
        CheckKind::ThrustToWeightAtLandBy => "Thrust-to-weight at land-by",
        CheckKind::HoverThrottleAtLandBy => "Hover throttle at land-by",
        CheckKind::RotorOut => "One rotor out",
        CheckKind::StringOut => "One string out",
        CheckKind::MotorCurrent => "Motor current in hover",
        CheckKind::CRate => "Current against the packs' C rating",
        CheckKind::LoadedCellVoltage => "Lowest cell voltage under load",
        CheckKind::PackCold => "Pack temperature at take-off",
        CheckKind::PackHot => "Warmest pack",
        CheckKind::WindHold => "Holding against the mean wind",
        CheckKind::GustHold => "Holding against the gust",
        CheckKind::WayHome => "Way home against the wind",
        CheckKind::TransitSpeed => "Transit airspeed against what it can fly",
        CheckKind::Balance => "Balance",
        CheckKind::ClimbReserve => "Climb left at land-by",
        CheckKind::AllUpMass => "All-up mass against the frame's limit",
        CheckKind::DescentRate => "Sink rate against the rotors' own wake",
        CheckKind::ComesHome => "Comes home as planned",
        CheckKind::Reserve => "Reserve at land-by",
    }
}

/// The word for a state.
pub const fn state_word(state: State) -> &'static str {
    match state {
        State::Fine => "Fine",
        State::Watch => "Watch",
        State::No => "No",
    }
}

/// Where a limit comes from.
pub const fn basis(basis: LimitSource) -> &'static str {
    match basis {
        LimitSource::Maker => "limit by the maker",
        LimitSource::Policy => "your own policy",
        LimitSource::Physics => "physics",
        LimitSource::CommonPractice => "common practice, no source",
    }
}

/// The verdict in one sentence, naming the worst check.
pub fn verdict(verdict: &Verdict) -> String {
    let worst = verdict.worst.map(|kind| lower_first(name(kind)));
    match (verdict.state, worst) {
        (State::Fine, Some(worst)) => format!("All checks hold; least margin: {worst}."),
        (State::Fine, None) => "All checks hold.".to_owned(),
        (State::Watch, Some(worst)) => format!("Flyable with care: {worst}."),
        (State::Watch, None) => "Flyable with care.".to_owned(),
        (State::No, Some(worst)) => format!("Do not take off like this: {worst}."),
        (State::No, None) => "Do not take off like this.".to_owned(),
    }
}

/// The value of a check rounded to the side that shows it worse; a word where there is none.
pub fn value(check: &Check, units: Units) -> String {
    shown(check, units).0
}

/// The limit of a check, "at most 80 %" or "at least 1.6".
pub fn limit(check: &Check, units: Units) -> String {
    let side = match check.kind.direction() {
        Direction::Ceiling => "at most",
        Direction::Floor => "at least",
    };
    format!("{side} {}", shown(check, units).1)
}

/// The margin to the limit: "12 % margin", "8 % beyond the limit".
pub fn margin(check: &Check) -> String {
    check.margin.map(margin_words).unwrap_or_default()
}

/// A margin to a limit: "12 % margin", "8 % beyond the limit".
pub fn margin_words(margin: Ratio) -> String {
    match whole_percent(margin) {
        beyond @ ..0 => format!("{}\u{a0}% beyond the limit", -beyond),
        margin => format!("{margin}\u{a0}% margin"),
    }
}

/// A margin in whole percent, down.
pub fn whole_percent(margin: Ratio) -> i64 {
    (margin.value * 100.0).floor() as i64
}

/// Value and limit; beyond the limit finer than usual until they differ: a failure never shows two equal figures.
fn shown(check: &Check, units: Units) -> (String, String) {
    let toward = match check.kind.direction() {
        Direction::Ceiling => Toward::Up,
        Direction::Floor => Toward::Down,
    };
    let Some(value) = check.value else {
        return ("not to be had".to_owned(), figure(check.limit, 1.0, Toward::Nearest, units));
    };
    let at =
        |finer| (figure(value, finer, toward, units), figure(check.limit, finer, Toward::Nearest, units));
    let is_beyond = check.margin.is_some_and(|margin| margin.value < 0.0);
    let mut words = at(1.0);
    for finer in [0.1, 0.01, 0.001] {
        if !is_beyond || words.0 != words.1 {
            break;
        }
        words = at(finer);
    }
    words
}

/// A figure to its usual step, or to a share of it.
fn figure(figure: Figure, finer: f64, toward: Toward, units: Units) -> String {
    let show = |unit, step: f64| stepped(figure.si(), unit, step * finer, toward, units).to_string();
    match figure.quantity() {
        Quantity::Share => show(Unit::Percent, 1.0),
        Quantity::Ratio => show(Unit::One, 0.01),
        Quantity::Mass => show(units.get(Choice::Mass), 0.01),
        Quantity::Current => show(Unit::Ampere, 0.1),
        Quantity::CellVoltage => show(Unit::Volt, 0.01),
        Quantity::Temperature => show(units.get(Choice::Temperature), 1.0),
        Quantity::VerticalSpeed => show(units.get(Choice::VerticalSpeed), 0.1),
        Quantity::Speed => show(units.get(Choice::Speed), 0.5),
    }
}
