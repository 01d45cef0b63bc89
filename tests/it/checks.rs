//! Checks: each kind is computed, speaks of its own quantity, and its words never contradict how it stands.

use std::collections::HashSet;

use liftmargin_core::card::{Card, Outcome, Prepared, card};
use liftmargin_core::frame::LayoutKind;
use liftmargin_core::limits::{
    Band, CheckKind, Direction, Figure, LimitSource, Quantity, State, Thresholds, judge, verdict,
};
use liftmargin_core::propulsion::Evidence;
use liftmargin_core::spread::Uncertainty;
use liftmargin_core::units::{
    ElectricCurrent, ElectricPotential, Length, Mass, Ratio, ThermodynamicTemperature, Velocity,
};
use liftmargin_document::present::Units;
use liftmargin_document::words::checks;
use proptest::prelude::*;
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::length::meter;
use uom::si::mass::kilogram;
use uom::si::ratio::ratio;
use uom::si::thermodynamic_temperature::kelvin;
use uom::si::velocity::meter_per_second;

use crate::craft;

fn cards() -> Vec<Card> {
    let mut cards = Vec::new();
    for kind in LayoutKind::ALL {
        let mut setup = craft::heavy(kind, 5.0);
        setup.airframe.mass_limit = Some(Mass::new::<kilogram>(40.0));
        cards.push(
            card(&setup, &craft::site(800.0, 15.0, 3.0), &Thresholds::default()).expect("inside the bounds"),
        );
    }
    cards
}

/// A row in the table of kinds that no card computes would be a check that nobody makes.
#[test]
fn each_kind_is_computed_and_speaks_of_its_own_quantity() {
    let mut seen = HashSet::new();
    let judged = cards().into_iter().flat_map(|card| card.judged(None, &Thresholds::default()).checks);
    for check in judged {
        seen.insert(check.kind.key());
        for figure in check.value.iter().chain([&check.limit]) {
            assert_eq!(figure.quantity(), check.kind.quantity(), "{:?}", check.kind);
        }
    }
    let all: HashSet<&str> = CheckKind::ALL.iter().map(|kind| kind.key()).collect();
    assert_eq!(all.len(), CheckKind::ALL.len(), "two kinds share a key");
    assert_eq!(seen, all, "kinds that no card computes");
}

fn figure(quantity: Quantity, si: f64) -> Figure {
    match quantity {
        Quantity::Ratio => Figure::Ratio(Ratio::new::<ratio>(si)),
        Quantity::Share => Figure::Share(Ratio::new::<ratio>(si)),
        Quantity::Mass => Figure::Mass(Mass::new::<kilogram>(si)),
        Quantity::Current => Figure::Current(ElectricCurrent::new::<ampere>(si)),
        Quantity::CellVoltage => Figure::CellVoltage(ElectricPotential::new::<volt>(si)),
        Quantity::Temperature => Figure::Temperature(ThermodynamicTemperature::new::<kelvin>(si)),
        Quantity::Speed => Figure::Speed(Velocity::new::<meter_per_second>(si)),
        Quantity::VerticalSpeed => Figure::VerticalSpeed(Velocity::new::<meter_per_second>(si)),
    }
}

/// The last bit of a search, which a machine's mathematics library may round otherwise, names no other check as the worst.
#[test]
fn alike_margins_keep_the_order_of_their_checks() {
    let of = |kind: CheckKind, si: f64| {
        let band = |si: f64| figure(kind.quantity(), si);
        judge(kind, Some(band(si)), Band { fine: band(1.2), limit: band(1.2) }, LimitSource::CommonPractice)
    };
    let first = |landing: f64| {
        let mut both =
            [of(CheckKind::ThrustToWeightFresh, 1.5), of(CheckKind::ThrustToWeightAtLandBy, landing)];
        verdict(&mut both).worst
    };
    for alike in [1.5 - 1e-12, 1.5, 1.5 + 1e-12] {
        assert_eq!(first(alike), Some(CheckKind::ThrustToWeightFresh), "{alike}");
    }
    assert_eq!(first(1.49), Some(CheckKind::ThrustToWeightAtLandBy));
}

/// Thrust over weight is checked with what one aircraft in ten falls short of.
#[test]
fn a_wider_doubt_in_thrust_lowers_the_checked_margin() {
    let site = craft::site(800.0, 15.0, 3.0);
    let mut setup = craft::heavy(LayoutKind::OctoCross, 5.0);
    let mut checked = |spread: f64| {
        let (thrust_spread, power_spread) = (Ratio::new::<ratio>(spread), Ratio::new::<ratio>(0.1));
        setup.airframe.unit.evidence =
            Evidence::Estimate { thrust_spread, shaft_power_spread: power_spread, power_spread };
        let card = card(&setup, &site, &Thresholds::default()).expect("inside the bounds");
        let check = card.checks.iter().find(|check| check.kind == CheckKind::ThrustToWeightFresh);
        (check.and_then(|check| check.value).expect("a value").si(), card.hover.thrust_to_weight.value)
    };
    let ((narrow, typical), (wide, same)) = (checked(0.02), checked(0.2));
    assert!(wide < narrow && narrow < typical, "{wide} {narrow} {typical}");
    assert!((typical - same).abs() < 1e-12);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// In wind and far away more and more draws stay out; no cautious figure is zero under a verdict better than no.
    #[test]
    fn prop_the_verdict_is_never_better_than_what_is_shown(
        wind in 0.0..11.0f64, distance_m in 0.0..2000.0f64, airspeed in 8.0..18.0f64, payload_kg in 0.0..14.0f64,
        kind in prop::sample::select(LayoutKind::ALL.to_vec()),
    ) {
        let (mut setup, site) = (craft::heavy(kind, payload_kg), craft::site(900.0, 12.0, wind));
        setup.profile.distance = Length::new::<meter>(distance_m);
        setup.profile.transit_airspeed = Velocity::new::<meter_per_second>(airspeed);
        let thresholds = Thresholds::default();
        let prepared = Prepared::new(&setup, &site, &thresholds).expect("inside the bounds");
        // A leg that cannot be flown is a named refusal.
        let Ok(card) = prepared.card() else { return Ok(()) };
        let uncertainty = Uncertainty::for_airframe(&setup.airframe);
        let sampler = prepared.sampler(&uncertainty, 1).expect("inside the bounds");
        let cautious = sampler.and_then(|sampler| sampler.cautious(64));
        let judged = card.judged(cautious.as_ref(), &thresholds);
        prop_assert!(judged.checks.iter().all(|check| check.state <= judged.verdict.state));
        if let (Outcome::Flies(_), Some(cautious)) = (&card.outcome, cautious) {
            let figures = [cautious.land_by.value, cautious.turn_back.value, cautious.flight_time.value];
            let is_assured = figures.iter().all(|figure| *figure > 0.0);
            prop_assert!(is_assured || judged.verdict.state == State::No, "{cautious:?}");
        } else {
            prop_assert_eq!(judged.verdict.state, State::No);
        }
    }
}

/// Wind 9 m/s and 400 m to go with 13 m/s: more than one in ten does not come home, and the verdict says so.
#[test]
fn a_way_home_that_is_not_assured_is_a_no() {
    let (mut setup, site) = (craft::heavy(LayoutKind::CoaxialQuad, 4.0), craft::site(500.0, 15.0, 9.0));
    setup.profile.distance = Length::new::<meter>(400.0);
    setup.profile.transit_airspeed = Velocity::new::<meter_per_second>(13.0);
    let thresholds = Thresholds::default();
    let prepared = Prepared::new(&setup, &site, &thresholds).expect("inside the bounds");
    let sampler =
        prepared.sampler(&Uncertainty::for_airframe(&setup.airframe), 1).expect("inside the bounds");
    let cautious = sampler.and_then(|sampler| sampler.cautious(256)).expect("sampled");
    let judged = prepared.card().expect("inside the bounds").judged(Some(&cautious), &thresholds);
    let home = judged.checks.iter().find(|check| check.kind == CheckKind::ComesHome).expect("judged");
    assert!(cautious.comes_home.value < 0.9, "{:?}", cautious.comes_home);
    assert_eq!((home.state, judged.verdict.state), (State::No, State::No));
}

proptest! {
    #[test]
    fn prop_a_failed_check_never_shows_two_equal_figures(
        pick in 0..CheckKind::ALL.len(), limit in 0.5..20.0f64, beyond in 1e-3..0.5f64,
    ) {
        let kind = CheckKind::ALL[pick];
        let value = match kind.direction() {
            Direction::Floor => limit * (1.0 - beyond),
            Direction::Ceiling => limit * (1.0 + beyond),
        };
        let limit = figure(kind.quantity(), limit);
        let check = judge(kind, Some(figure(kind.quantity(), value)), Band { fine: limit, limit }, LimitSource::Policy);
        prop_assert_eq!(check.state, State::No);
        let (value, limit) = (checks::value(&check, Units::metric()), checks::limit(&check, Units::metric()));
        prop_assert!(!limit.ends_with(&format!(" {value}")), "{}: {value}, {limit}", checks::name(kind));
    }

    #[test]
    fn prop_the_state_is_the_side_of_the_limit(
        pick in 0..CheckKind::ALL.len(), limit in 0.5..20.0f64, slack in 0.0..0.5f64, value in 0.1..40.0f64,
    ) {
        let kind = CheckKind::ALL[pick];
        let (fine, is_inside, is_fine) = match kind.direction() {
            Direction::Floor => (limit * (1.0 + slack), value >= limit, value >= limit * (1.0 + slack)),
            Direction::Ceiling => (limit * (1.0 - slack), value <= limit, value <= limit * (1.0 - slack)),
        };
        let of = |si| figure(kind.quantity(), si);
        let check = judge(kind, Some(of(value)), Band { fine: of(fine), limit: of(limit) }, LimitSource::Maker);
        let expected = if is_fine { State::Fine } else if is_inside { State::Watch } else { State::No };
        prop_assert_eq!(check.state, expected);
        prop_assert_eq!(check.margin.is_some_and(|margin| margin.value >= 0.0), is_inside);
    }
}
