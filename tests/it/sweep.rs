//! The builder's sweep: the present place is the card's own, and what is heavier, higher, farther or smaller never flies longer.

use crate::table::assert_close;
use liftmargin_core::limits::State;
use liftmargin_document::card_report::report;
use liftmargin_document::model::Bundle;
use liftmargin_document::open_strict;
use liftmargin_document::resolve::{ResolvedAirframe, is_other_rotor, resolve_airframe};
use liftmargin_document::sweep::{MassOf, PLACES, Side, Sweep, SweepAxis, SweepPoint, Sweeper, sweep};
use liftmargin_document::whatif::{Change, WhatIf, apply};
use uom::si::electric_charge::milliampere_hour;

const DEMO: &str = include_str!("../../demo-data/mountain-road.json");

/// Beyond a figure's own rounding nobody sees a difference: a second of a time, 5 mAh of a reading.
const SECOND: f64 = 1.0;
const FIVE_MAH_C: f64 = 18.0;

fn demo() -> Bundle {
    open_strict(DEMO).expect("the demo opens")
}

fn learned(bundle: &Bundle, setup: usize) -> ResolvedAirframe {
    let of = &bundle.setups[setup].airframe;
    let airframe = bundle.airframes.iter().find(|airframe| airframe.id == *of).expect("an airframe");
    resolve_airframe(airframe).expect("resolves")
}

fn swept(bundle: &Bundle, setup: usize, axis: SweepAxis, places: usize) -> Sweep {
    sweep(bundle, &bundle.setups[setup].id, &learned(bundle, setup), axis, places).expect("sweeps")
}

fn now(sweep: &Sweep) -> &SweepPoint {
    sweep.points.iter().find(|point| point.at.total_cmp(&sweep.now).is_eq()).expect("the present place")
}

/// Cautious and typical, none without a flight.
fn times(point: &SweepPoint) -> [f64; 2] {
    point.flight.map_or([0.0; 2], |flight| [flight.time.cautious.value, flight.time.typical.value])
}

#[test]
fn prop_the_present_place_of_every_axis_is_the_card() {
    let bundle = demo();
    let cards = report(&bundle).expect("cards");
    for (setup, card) in cards.iter().enumerate() {
        for axis in SweepAxis::ALL {
            let sweep = swept(&bundle, setup, axis, 2);
            let here = now(&sweep);
            let flight = here.flight.as_ref();
            let mah = |charge: liftmargin_core::units::ElectricCharge| charge.get::<milliampere_hour>();
            let told = [
                (flight.map(|flight| flight.time.typical.value), card.flight_time_s),
                // As the card shows it: never above the typical one.
                (
                    flight.map(|flight| flight.time.cautious.value),
                    card.cautious_flight_time_s.zip(card.flight_time_s).map(|(one, other)| one.min(other)),
                ),
                (
                    flight.map(|flight| mah(flight.land_by.cautious)),
                    card.cautious_land_by_mah.zip(card.land_by_mah).map(|(one, other)| one.min(other)),
                ),
                (
                    flight.map(|flight| mah(flight.turn_back.cautious)),
                    card.cautious_turn_back_mah.zip(card.turn_back_mah).map(|(one, other)| one.min(other)),
                ),
                (Some(here.thrust_to_weight.typical.value), Some(card.thrust_to_weight)),
            ];
            assert_eq!(here.state.key(), card.verdict, "{axis:?} {}", card.setup);
            assert_eq!(here.worst.map(|kind| kind.key().to_owned()), card.worst_check, "{axis:?}");
            for (index, (swept, of_card)) in told.into_iter().enumerate() {
                assert_eq!(swept.is_some(), of_card.is_some(), "{axis:?} {index}");
                if let Some((swept, of_card)) = swept.zip(of_card) {
                    assert_close(swept, of_card, 1e-12, &format!("{axis:?} {index} {}", card.setup));
                }
            }
        }
    }
}

#[test]
fn prop_more_mass_or_height_never_flies_longer() {
    let bundle = demo();
    for axis in [SweepAxis::PayloadMass, SweepAxis::Elevation] {
        for setup in 0..bundle.setups.len() {
            let sweep = swept(&bundle, setup, axis, 9);
            assert!(sweep.points.len() > 4, "{axis:?}");
            for pair in sweep.points.windows(2) {
                let (before, after) = (times(&pair[0]), times(&pair[1]));
                assert!(after[0] <= before[0] + SECOND, "cautious {axis:?} {pair:?}");
                assert!(after[1] <= before[1] + 0.1, "typical {axis:?} {pair:?}");
                // Where the motor current ends the thrust, thin air takes nothing away: torque gives the same thrust.
                let thrust = |index: usize| pair[index].thrust_to_weight.typical.value;
                assert!(thrust(1) <= thrust(0) * (1.0 + 1e-9), "{axis:?} {pair:?}");
            }
        }
    }
}

#[test]
fn prop_farther_never_leaves_more_and_more_wind_never_raises_land_by() {
    let bundle = demo();
    for setup in 0..bundle.setups.len() {
        for axis in [SweepAxis::Distance, SweepAxis::Wind] {
            let sweep = swept(&bundle, setup, axis, 9);
            for pair in sweep.points.windows(2) {
                let of = |read: fn(&liftmargin_document::sweep::SweptFlight) -> f64| {
                    [0, 1].map(|index| pair[index].flight.as_ref().map_or(0.0, read))
                };
                let told = [
                    ("on set", of(|flight| flight.on_set.cautious.value), SECOND),
                    ("turn back", of(|flight| flight.turn_back.cautious.value), FIVE_MAH_C),
                    ("land by", of(|flight| flight.land_by.cautious.value), FIVE_MAH_C),
                ];
                for (name, [before, after], unseen) in told {
                    assert!(after <= before + unseen, "{name} {axis:?} {setup} {before} {after} {pair:?}");
                }
            }
        }
    }
}

#[test]
fn prop_cautious_is_never_bolder_than_typical_and_a_flight_not_assured_is_no() {
    let bundle = demo();
    for axis in SweepAxis::ALL {
        for setup in 0..bundle.setups.len() {
            for point in swept(&bundle, setup, axis, 3).points {
                let Some(flight) = point.flight else {
                    assert_eq!(point.state, State::No, "{axis:?} {point:?}");
                    continue;
                };
                assert!(flight.time.cautious <= flight.time.typical, "{axis:?} {point:?}");
                assert!(flight.on_set.cautious <= flight.on_set.typical, "{axis:?} {point:?}");
                assert!(flight.land_by.cautious <= flight.land_by.typical, "{axis:?} {point:?}");
                assert!(flight.turn_back.cautious <= flight.turn_back.typical, "{axis:?} {point:?}");
                assert!(point.thrust_to_weight.cautious <= point.thrust_to_weight.typical, "{axis:?}");
                assert!(flight.time.cautious.value > 0.0 || point.state == State::No, "{axis:?} {point:?}");
            }
        }
    }
}

#[test]
fn prop_another_rotor_under_the_same_table_is_in_wider_doubt() {
    let bundle = demo();
    let with_table = |setup: &liftmargin_document::model::Setup| {
        let airframe = bundle.airframes.iter().find(|airframe| airframe.id == setup.airframe);
        airframe.is_some_and(|airframe| airframe.propulsion.bench.is_some())
    };
    let setup = bundle.setups.iter().position(with_table).expect("a setup with a bench table");
    let sweep = swept(&bundle, setup, SweepAxis::RotorDiameter, 5);
    let doubt = |point: &SweepPoint| {
        let [cautious, typical] = times(point);
        1.0 - cautious / typical
    };
    let beside = |other: bool| {
        let near = sweep.points.iter().filter(|point| (point.at / sweep.now - 1.0).abs() < 0.006);
        near.filter(|point| is_other_rotor(sweep.now, point.at) == other).collect::<Vec<_>>()
    };
    let (same, others) = (beside(false), beside(true));
    assert_eq!((same.len(), others.len()), (3, 2), "the jump of the doubt is looked at from both sides");
    for other in others {
        assert!(doubt(other) > doubt(now(&sweep)) * 1.05, "{} {}", doubt(other), doubt(now(&sweep)));
        assert!(other.thrust_to_weight.cautious < now(&sweep).thrust_to_weight.cautious);
    }
    // An edit says the same as the sweep.
    let at = sweep.points.last().expect("a greater rotor").at;
    let mut edited = bundle.clone();
    let airframe = edited.setups[setup].airframe.clone();
    let airframe = edited.airframes.iter_mut().find(|there| there.id == airframe).expect("there");
    liftmargin_document::model::numbers::ROTOR_DIAMETER.set(airframe, Some(at));
    let card = &report(&edited).expect("cards")[setup];
    let last = sweep.points.last().and_then(|point| point.flight).expect("flies");
    assert_close(last.time.cautious.value, card.cautious_flight_time_s.expect("flies"), 1e-9, "edited");
}

#[test]
fn regress_a_crossing_lies_where_the_verdict_turns() {
    let bundle = demo();
    let sweep = swept(&bundle, 0, SweepAxis::PayloadMass, 9);
    let crossing = sweep.crossings.last().expect("twice the payload is too much");
    let beyond = sweep.points.iter().find(|point| point.at > crossing.at).expect("a point beyond");
    assert_eq!((beyond.state, crossing.beyond), (State::No, Side::Above));
    assert!(
        sweep.points.iter().filter(|point| point.at <= crossing.at).all(|point| point.state != State::No)
    );
    assert!(crossing.at > sweep.now, "the demo's first setup can be flown");
}

#[test]
fn regress_cold_says_no_below_a_place() {
    let bundle = demo();
    let sweep = swept(&bundle, 3, SweepAxis::Temperature, 14);
    let crossing = sweep.crossings.first().expect("packs from the truck are too cold to fly");
    assert_eq!(crossing.beyond, Side::Below);
    assert!(sweep.points.iter().filter(|point| point.at < crossing.at).all(|point| point.state == State::No));
}

#[test]
fn regress_strings_and_capacity_are_varied_about_the_present() {
    let bundle = demo();
    let strings = swept(&bundle, 0, SweepAxis::Strings, 0);
    assert_close(strings.now, bundle.setups[0].supply.strings.len() as f64, 1e-12, "strings");
    let falls = |pair: &[SweepPoint]| {
        pair[1].thrust_to_weight.typical < pair[0].thrust_to_weight.typical || pair[0].flight.is_none()
    };
    assert!(strings.points.windows(2).all(falls));
    let capacity = swept(&bundle, 0, SweepAxis::PackCapacity, 5);
    let current =
        |point: Option<&SweepPoint>| point.and_then(|point| point.hover_current).map_or(0.0, |is| is.value);
    assert!(current(capacity.points.last()) > current(capacity.points.get(1)), "larger packs weigh more");
    let cold = swept(&bundle, 0, SweepAxis::Temperature, 5);
    let here = bundle.sites.iter().find(|s| s.id == bundle.setups[0].site).expect("site").temperature_c;
    assert_close(cold.now, here, 1e-12, "temperature");
}

#[test]
fn regress_a_setup_without_a_card_has_no_sweep() {
    let mut bundle = demo();
    let airframe = learned(&bundle, 0);
    bundle.setups[0].site = String::new();
    let id = bundle.setups[0].id.clone();
    let fault = sweep(&bundle, &id, &airframe, SweepAxis::PayloadMass, 5).expect_err("no site");
    assert_eq!(fault.field(), "setups[0].site");
}

/// The mass of one item, or one that is no item: what the what-if of the same mass says, and never longer when heavier.
#[test]
fn prop_a_mass_on_the_slider_is_the_what_if_of_that_mass() {
    let bundle = demo();
    let setup = &bundle.setups[0];
    let item = setup.load.iter().find(|load| load.on).expect("something on board").item.clone();
    let learned = learned(&bundle, 0);
    // What else the what-if changes is kept; what it changes of this mass is not.
    let other = setup.load.iter().filter(|load| load.on).nth(1).expect("two on board").item.clone();
    let left = Change::Leave { item: other };
    for of in [MassOf::Item(item.clone()), MassOf::Extra([0.0, 0.0, 0.3])] {
        let change = |mass_kg| match &of {
            MassOf::Item(item) => Change::ItemMass { item: item.clone(), mass_kg },
            MassOf::Extra(position_m) => Change::ExtraMass { mass_kg, position_m: *position_m },
        };
        let what_if = WhatIf { changes: vec![left.clone(), change(1.234)] };
        let sweeper =
            Sweeper::over_mass(&bundle, &setup.id, &learned, &what_if, of.clone(), 12.0).expect("begins");
        let sweep = sweeper.at_once().expect("sweeps");
        assert!(sweep.points.len() >= PLACES, "{of:?}");
        assert!(sweep.points.windows(2).all(|pair| times(&pair[1])[0] <= times(&pair[0])[0] + SECOND));
        let tried = &sweep.points[5];
        let what_if = WhatIf { changes: vec![left.clone(), change(tried.at)] };
        let card = &report(&apply(&bundle, &setup.id, &what_if).expect("applies")).expect("cards")[0];
        assert_close(times(tried)[1], card.flight_time_s.expect("flies"), 1e-9, "typical");
        assert_close(times(tried)[0], card.cautious_flight_time_s.expect("flies"), 1e-9, "cautious");
    }
}
