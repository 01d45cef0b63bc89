//! Checks: each kind is computed, speaks of its own quantity, and its words never contradict how it stands.

use std::collections::HashSet;

use liftmargin_core::card::{Card, card};
use liftmargin_core::frame::LayoutKind;
use liftmargin_core::limits::{
    Band, CheckKind, Direction, Figure, LimitSource, Quantity, State, Thresholds, judge,
};
use liftmargin_core::units::{
    ElectricCurrent, ElectricPotential, Mass, Ratio, ThermodynamicTemperature, Velocity,
};
use liftmargin_document::measure::{Units, checks};
use proptest::prelude::*;
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
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
    for check in cards().iter().flat_map(|card| &card.checks) {
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
