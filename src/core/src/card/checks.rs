//! Every check of a card, from the facts that the stations found.

use super::wind_held::{WindHeld, WindInHand};
use super::worst_rotor::WorstRotorOut;
use crate::flight::{Flight, ReservePolicy};
use crate::limits::{Band, Check, CheckKind, Figure, LimitSource, Thresholds, judge};
use crate::units::{ElectricCurrent, Mass, Ratio, ThermodynamicTemperature, Velocity};
use uom::si::ratio::ratio;

/// What the checks are made from.
pub(super) struct Facts<'a> {
    pub thresholds: &'a Thresholds,
    pub thrust_to_weight: Ratio,
    pub greatest_motor_current: ElectricCurrent,
    pub motor_current_limit: ElectricCurrent,
    pub most_loaded_over_mean: Ratio,
    pub all_up_mass: Mass,
    pub mass_limit: Option<Mass>,
    pub coldest_pack: Option<ThermodynamicTemperature>,
    pub policy: &'a ReservePolicy,
    pub wind: Velocity,
    pub gust: Velocity,
    pub transit: Option<Velocity>,
    pub sink_rate: Option<Velocity>,
    pub ring_state_onset: Velocity,
    pub flight: Option<InFlight<'a>>,
}

/// What is known only where there is a flight.
pub(super) struct InFlight<'a> {
    pub flight: &'a Flight,
    pub thrust_to_weight: Ratio,
    pub hover_throttle: Option<Ratio>,
    pub wind: WindInHand,
    pub climb_rate: Velocity,
    pub rotor_out: Option<WorstRotorOut>,
}

/// All checks that apply.
pub(super) fn all(facts: &Facts<'_>) -> Vec<Check> {
    let mut checks = vec![thrust_fresh(facts), motor_current(facts), balance(facts), pack_cold(facts)];
    checks.extend(all_up_mass(facts));
    checks.extend(way_home(facts));
    checks.extend(descent_rate(facts));
    checks.push(reserve(facts));
    if let Some(inflight) = &facts.flight {
        checks.extend(in_flight(facts, inflight));
    }
    checks
}

fn thrust_fresh(facts: &Facts<'_>) -> Check {
    let limits = facts.thresholds;
    judge(
        CheckKind::ThrustToWeightFresh,
        Some(Figure::Ratio(facts.thrust_to_weight)),
        band(Figure::Ratio(limits.thrust_to_weight_fine), Figure::Ratio(limits.thrust_to_weight_least)),
        LimitSource::CommonPractice,
    )
}

fn motor_current(facts: &Facts<'_>) -> Check {
    let limit = facts.motor_current_limit;
    judge(
        CheckKind::MotorCurrent,
        Some(Figure::Current(facts.greatest_motor_current)),
        band(Figure::Current(limit * facts.thresholds.fine_share_of_limit), Figure::Current(limit)),
        LimitSource::Maker,
    )
}

fn balance(facts: &Facts<'_>) -> Check {
    let limits = facts.thresholds;
    judge(
        CheckKind::Balance,
        Some(Figure::Ratio(facts.most_loaded_over_mean)),
        band(Figure::Ratio(limits.balance_fine), Figure::Ratio(limits.balance_greatest)),
        LimitSource::CommonPractice,
    )
}

fn pack_cold(facts: &Facts<'_>) -> Check {
    let limits = facts.thresholds;
    judge(
        CheckKind::PackCold,
        facts.coldest_pack.map(Figure::Temperature),
        band(Figure::Temperature(limits.pack_cold_fine), Figure::Temperature(limits.pack_coldest)),
        LimitSource::CommonPractice,
    )
}

fn all_up_mass(facts: &Facts<'_>) -> Option<Check> {
    let limit = facts.mass_limit?;
    // The maker's limit is the maker's word: up to it is fine.
    let band = band(Figure::Mass(limit), Figure::Mass(limit));
    Some(judge(CheckKind::AllUpMass, Some(Figure::Mass(facts.all_up_mass)), band, LimitSource::Maker))
}

fn way_home(facts: &Facts<'_>) -> Option<Check> {
    let airspeed = facts.transit?;
    let band = band(
        Figure::Speed(airspeed * facts.thresholds.way_home_fine),
        Figure::Speed(airspeed * facts.thresholds.way_home_greatest),
    );
    Some(judge(CheckKind::WayHome, Some(Figure::Speed(facts.wind)), band, LimitSource::CommonPractice))
}

fn descent_rate(facts: &Facts<'_>) -> Option<Check> {
    let onset = Figure::VerticalSpeed(facts.ring_state_onset);
    let check = judge(
        CheckKind::DescentRate,
        Some(Figure::VerticalSpeed(facts.sink_rate?)),
        band(onset, onset),
        LimitSource::Physics,
    );
    Some(check.watch_at_most())
}

fn reserve(facts: &Facts<'_>) -> Check {
    let usual = Figure::Share(facts.thresholds.reserve_share_usual);
    let value = facts.flight.as_ref().map(|_| Figure::Share(facts.policy.share));
    let check = judge(CheckKind::Reserve, value, band(usual, usual), LimitSource::CommonPractice);
    if value.is_some() { check.watch_at_most() } else { check }
}

fn in_flight(facts: &Facts<'_>, at: &InFlight<'_>) -> Vec<Check> {
    let limits = facts.thresholds;
    let thrust = judge(
        CheckKind::ThrustToWeightAtLandBy,
        Some(Figure::Ratio(at.thrust_to_weight)),
        band(Figure::Ratio(limits.thrust_to_weight_fine), Figure::Ratio(limits.thrust_to_weight_least)),
        LimitSource::CommonPractice,
    );
    let throttle = judge(
        CheckKind::HoverThrottleAtLandBy,
        at.hover_throttle.map(Figure::Share),
        band(Figure::Share(limits.hover_throttle_fine), Figure::Share(limits.hover_throttle_greatest)),
        LimitSource::CommonPractice,
    );
    let whole_rating = Figure::Share(Ratio::new::<ratio>(1.0));
    let c_rate = judge(
        CheckKind::CRate,
        Some(Figure::Share(at.flight.extremes.share_of_c_rating)),
        band(Figure::Share(limits.fine_share_of_limit), whole_rating),
        LimitSource::Maker,
    );
    let mut checks = vec![thrust, throttle, c_rate, cell_voltage(facts, at), pack_hot(facts, at)];
    checks.extend(at.rotor_out.as_ref().map(WorstRotorOut::check));
    checks.extend(wind(facts, at));
    checks.push(climb(facts, at));
    checks
}

fn cell_voltage(facts: &Facts<'_>, at: &InFlight<'_>) -> Check {
    let floor = Figure::CellVoltage(facts.policy.loaded_cell_floor);
    let value = Some(Figure::CellVoltage(at.flight.extremes.cell_voltage));
    judge(CheckKind::LoadedCellVoltage, value, band(floor, floor), LimitSource::Policy)
}

fn pack_hot(facts: &Facts<'_>, at: &InFlight<'_>) -> Check {
    let limits = facts.thresholds;
    judge(
        CheckKind::PackHot,
        Some(Figure::Temperature(at.flight.extremes.temperature)),
        band(Figure::Temperature(limits.pack_warm_fine), Figure::Temperature(limits.pack_warmest)),
        LimitSource::CommonPractice,
    )
}

/// Mean wind, gust and transit airspeed, each against what can be held or flown at land-by.
fn wind(facts: &Facts<'_>, at: &InFlight<'_>) -> Vec<Check> {
    let against = |kind, value: Velocity, held: Option<WindHeld>| {
        let held = held.map_or(Velocity::default(), |held| held.wind);
        let limits = band(Figure::Speed(held * facts.thresholds.wind_hold_fine), Figure::Speed(held));
        judge(kind, Some(Figure::Speed(value)), limits, LimitSource::Physics)
    };
    let mut checks = vec![
        against(CheckKind::WindHold, facts.wind, at.wind.mean),
        against(CheckKind::GustHold, facts.gust, at.wind.gust),
    ];
    checks.extend(facts.transit.map(|airspeed| against(CheckKind::TransitSpeed, airspeed, at.wind.gust)));
    checks
}

fn climb(facts: &Facts<'_>, at: &InFlight<'_>) -> Check {
    let limits = facts.thresholds;
    judge(
        CheckKind::ClimbReserve,
        Some(Figure::VerticalSpeed(at.climb_rate)),
        band(Figure::VerticalSpeed(limits.climb_rate_fine), Figure::VerticalSpeed(limits.climb_rate_least)),
        LimitSource::CommonPractice,
    )
}

fn band(fine: Figure, limit: Figure) -> Band {
    Band { fine, limit }
}
