//! Checks and the verdict in plain words.

use liftmargin_core::limits::{Check, CheckKind, Figure, LimitSource, State, Verdict};

use super::answer::{Shown, Toward, stepped, time};
use super::unit::Unit;
use super::units::{Choice, Units};
use super::words::lower_first;

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
        CheckKind::Balance => "Balance",
        CheckKind::ClimbReserve => "Climb left at land-by",
        CheckKind::AllUpMass => "All-up mass against the frame's limit",
        CheckKind::DescentRate => "Sink rate against the rotors' own wake",
        CheckKind::Reserve => "Reserve at land-by",
        _ => "Check",
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
        (State::Fine, Some(worst)) => format!("All checks hold; least room: {worst}."),
        (State::Fine, None) => "All checks hold.".to_owned(),
        (State::Watch, Some(worst)) => format!("Flyable with care: {worst}."),
        (State::Watch, None) => "Flyable with care.".to_owned(),
        (State::No, Some(worst)) => format!("Do not take off like this: {worst}."),
        (State::No, None) => "Do not take off like this.".to_owned(),
    }
}

/// The value of a check rounded to the side that shows it worse; a word where there is none.
pub fn value(check: &Check, units: Units) -> String {
    let toward = if is_ceiling(check.kind) { Toward::Up } else { Toward::Down };
    check.value.map_or_else(|| "not to be had".to_owned(), |value| figure(check.kind, value, toward, units))
}

/// The limit of a check, "at most 80 %" or "at least 1.6".
pub fn limit(check: &Check, units: Units) -> String {
    let side = if is_ceiling(check.kind) { "at most" } else { "at least" };
    format!("{side} {}", figure(check.kind, check.limit, Toward::Nearest, units))
}

/// The room to the limit: "12 % of room", "8 % beyond the limit".
pub fn room(check: &Check) -> String {
    match check.room.map(|room| room.value * 100.0) {
        None => String::new(),
        Some(room) if room < 0.0 => format!("{:.0}\u{a0}% beyond the limit", (-room).ceil()),
        Some(room) => format!("{:.0}\u{a0}% of room", room.floor()),
    }
}

/// Whether the limit must not be exceeded (else: not fallen below).
const fn is_ceiling(kind: CheckKind) -> bool {
    matches!(
        kind,
        CheckKind::HoverThrottleAtLandBy
            | CheckKind::MotorCurrent
            | CheckKind::CRate
            | CheckKind::PackHot
            | CheckKind::WindHold
            | CheckKind::GustHold
            | CheckKind::Balance
            | CheckKind::AllUpMass
            | CheckKind::DescentRate
            | CheckKind::WayHome
    )
}

fn figure(kind: CheckKind, figure: Figure, toward: Toward, units: Units) -> String {
    let show = |si, unit, step| -> Shown { stepped(si, unit, step, toward, units) };
    let shown = match figure {
        Figure::Ratio(share) => match kind {
            CheckKind::HoverThrottleAtLandBy | CheckKind::Reserve | CheckKind::CRate => {
                show(share.value, Unit::Percent, 1.0)
            }
            _ => show(share.value, Unit::One, 0.01),
        },
        Figure::Mass(mass) => show(mass.value, units.get(Choice::Mass), 0.01),
        Figure::Current(current) => show(current.value, Unit::Ampere, 0.1),
        Figure::CellVoltage(voltage) => show(voltage.value, Unit::Volt, 0.01),
        Figure::Temperature(temperature) => show(temperature.value, units.get(Choice::Temperature), 1.0),
        Figure::Speed(speed) if matches!(kind, CheckKind::ClimbReserve | CheckKind::DescentRate) => {
            show(speed.value, units.get(Choice::VerticalSpeed), 0.1)
        }
        Figure::Speed(speed) => show(speed.value, units.get(Choice::Speed), 0.5),
        Figure::Length(length) => show(length.value, units.get(Choice::Part), 1.0),
        Figure::Time(value) => return time(value),
        Figure::Power(power) => show(power.value, Unit::Watt, 10.0),
    };
    shown.to_string()
}
