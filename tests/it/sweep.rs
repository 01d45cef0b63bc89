//! The builder's sweep: the present place is the card's own, and what is heavier, higher or smaller never flies longer.

use crate::table::assert_close;
use liftmargin_core::limits::State;
use liftmargin_document::model::Bundle;
use liftmargin_document::open_strict;
use liftmargin_document::resolve::resolve_airframe;
use liftmargin_document::sweep::{Side, Sweep, SweepAxis, sweep};

const DEMO: &str = include_str!("../../demo-data/mountain-road.json");

fn demo() -> Bundle {
    open_strict(DEMO).expect("the demo opens")
}

fn swept(bundle: &Bundle, setup: usize, axis: SweepAxis, places: usize) -> Sweep {
    let setup = &bundle.setups[setup];
    let airframe =
        bundle.airframes.iter().find(|airframe| airframe.id == setup.airframe).expect("an airframe");
    let airframe = resolve_airframe(airframe).expect("resolves").airframe;
    sweep(bundle, &setup.id, &airframe, axis, places).expect("sweeps")
}

#[test]
fn more_mass_or_height_never_flies_longer() {
    let bundle = demo();
    for axis in [SweepAxis::PayloadMass, SweepAxis::Elevation] {
        for setup in 0..bundle.setups.len() {
            let sweep = swept(&bundle, setup, axis, 9);
            assert!(sweep.points.len() > 4, "{axis:?}");
            for pair in sweep.points.windows(2) {
                let time = |index: usize| pair[index].flight_time.map_or(0.0, |time| time.value);
                assert!(time(1) <= time(0) + 0.1, "{axis:?} {pair:?}");
                // Where the motor current ends the thrust, thin air takes nothing away: torque gives the same thrust.
                let (before, after) = (pair[0].thrust_to_weight.value, pair[1].thrust_to_weight.value);
                assert!(after <= before * (1.0 + 1e-9), "{axis:?} {pair:?}");
            }
        }
    }
}

#[test]
fn regress_a_crossing_lies_where_the_verdict_turns() {
    let bundle = demo();
    let sweep = swept(&bundle, 0, SweepAxis::PayloadMass, 9);
    let crossing = sweep.crossings.last().expect("twice the payload is too much");
    let beyond = sweep.points.iter().find(|point| point.at > crossing.at).expect("a point beyond");
    assert_eq!((beyond.state, beyond.worst, crossing.beyond), (State::No, crossing.check, Side::Above));
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
    assert!(
        strings
            .points
            .windows(2)
            .all(|pair| pair[1].thrust_to_weight < pair[0].thrust_to_weight || pair[0].flight_time.is_none())
    );
    let capacity = swept(&bundle, 0, SweepAxis::PackCapacity, 5);
    let current = |index: usize| capacity.points[index].hover_current.map_or(0.0, |current| current.value);
    assert!(current(4) > current(1), "larger packs weigh more");
    let cold = swept(&bundle, 0, SweepAxis::Temperature, 5);
    let here = bundle.sites.iter().find(|s| s.id == bundle.setups[0].site).expect("site").temperature_c;
    assert_close(cold.now, here, 1e-12, "temperature");
}

#[test]
fn regress_a_setup_without_a_card_has_no_sweep() {
    let mut bundle = demo();
    let airframe = resolve_airframe(&bundle.airframes[0]).expect("resolves").airframe;
    bundle.setups[0].site = String::new();
    let id = bundle.setups[0].id.clone();
    let fault = sweep(&bundle, &id, &airframe, SweepAxis::PayloadMass, 5).expect_err("no site");
    assert_eq!(fault.field(), "setups[0].site");
}
