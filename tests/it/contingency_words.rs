//! The words beside the card: what a crew reads about rotors, balance, lost strings, cold packs.

use liftmargin_core::air::Site;
use liftmargin_core::card::LostString;
use liftmargin_core::flight::{FirstFailure, LossOutcome, WarmGain};
use liftmargin_core::frame::{Capability, LayoutKind, LevelHold, RotorOut};
use liftmargin_core::mass::Slide;
use liftmargin_core::units::{Length, Ratio, ThermodynamicTemperature, Time};
use liftmargin_document::open_strict;
use liftmargin_document::present::Units;
use liftmargin_document::resolve::{movables, resolve};
use liftmargin_document::sweep::SweepAxis;
use liftmargin_document::words::contingency::{lost_string, rotor_out, slide, sweep_place, warming};
use uom::si::length::millimeter;
use uom::si::ratio::ratio;
use uom::si::thermodynamic_temperature::degree_celsius;
use uom::si::time::second;

use crate::craft;

const DEMO: &str = include_str!("../../demo-data/mountain-road.json");

#[test]
fn regress_a_stopped_rotor_in_a_sentence() {
    let share = Ratio::new::<ratio>;
    let out = |capability, held, turning| RotorOut {
        failed: 2,
        hold: LevelHold { capability, greatest_heading_held: share(held), greatest_turning: share(turning) },
    };
    let turning = |heading_at_boundary| Capability::HoldsLevelTurning { heading_at_boundary };
    let table = [
        (out(Capability::CannotHoldLevel, 0.0, 0.5), "cannot hold level and falls"),
        (
            out(Capability::HoldsLevelAndHeading, 0.6, 0.75),
            "level and heading with 1.2 of thrust-to-weight (1.5 if",
        ),
        (
            out(Capability::HoldsLevelAndHeading, 0.4, 0.6),
            "1.2 of thrust-to-weight while turning: heading held would leave only 0.8",
        ),
        (out(turning(false), 0.0, 0.6), "stays level, turns: land at once. 1.2 of"),
        (
            out(turning(true), 0.6, 0.6),
            "1.2 of thrust-to-weight while turning: the heading holds on paper only",
        ),
        (out(Capability::HoldsLevelAndHeading, 0.3, 0.4), "sinks: 0.8 of"),
    ];
    for (out, part) in table {
        let words = rotor_out(&out, share(2.0), Units::metric());
        assert!(words.starts_with("Rotor 3 stopped: ") && words.contains(part), "{words}");
    }
}

#[test]
fn regress_a_slide_names_its_way() {
    let by = |forward, right| Slide {
        forward: Length::new::<millimeter>(forward),
        right: Length::new::<millimeter>(right),
    };
    let table = [
        (by(12.0, -3.0), "Slide it 12\u{a0}mm forward and 3\u{a0}mm to the left."),
        (by(-8.4, 0.2), "Slide it 8\u{a0}mm backward."),
        (by(0.1, -0.3), "It balances where it is."),
    ];
    for (by, words) in table {
        assert_eq!(slide(&by, Units::metric()), words);
    }
    assert_eq!(slide(&by(25.4, 0.0), Units::us()), "Slide it 1.00\u{a0}in forward.");
}

#[test]
fn regress_a_lost_string_says_what_fails_first_or_that_nothing_does() {
    let (setup, site): (_, Site) =
        (craft::heavy(LayoutKind::CoaxialQuad, 4.0), craft::site(300.0, 20.0, 2.0));
    let lost = craft::contingencies(&setup, &site).strings_lost;
    let mut last: LostString = lost[2].clone();
    last.lost.outcome = LossOutcome::CarriesAlone;
    let words = lost_string(&last, Units::metric());
    assert!(
        words.starts_with(
            "String 1 lost when turning back: the rest brings it down within its limits; up to "
        ),
        "{words}"
    );
    assert!(words.contains("mAh left in each"), "{words}");
    last.lost.outcome = LossOutcome::FailsFirst(FirstFailure::LoadedCellFloor);
    assert!(lost_string(&last, Units::metric()).contains("first to fail is the cell-voltage floor"));
}

#[test]
fn regress_warming_is_advised_from_a_minute_on() {
    let gain = |seconds| WarmGain { as_they_are: None, warmed: None, gained: Time::new::<second>(seconds) };
    let warm = ThermodynamicTemperature::new::<degree_celsius>(25.0);
    assert_eq!(warming(&gain(59.0), warm, Units::metric()), None);
    let words = warming(&gain(95.0), warm, Units::metric()).expect("worth it");
    assert!(words.contains("25") && words.contains("1\u{a0}min 30\u{a0}s"), "{words}");
}

#[test]
fn regress_what_can_be_slid_is_where_the_resolved_setup_has_it() {
    let bundle = open_strict(DEMO).expect("the demo opens");
    for setup in &bundle.setups {
        let (ready, _) = resolve(&bundle, &setup.id).expect("resolves");
        let movables = movables(&bundle, setup);
        let all: Vec<usize> = movables[..2].iter().flat_map(|thing| thing.items.clone()).collect();
        assert_eq!(all.len() + 1, ready.items.len(), "all but the frame");
        for thing in &movables[2..] {
            let named = bundle.items.iter().find(|item| item.name == thing.name).expect("an item");
            let mass = ready.items[thing.items[0]].mass.value;
            assert!((mass - named.mass_kg).abs() < 1e-12, "{}", thing.name);
        }
    }
}

#[test]
fn val_bipm_places_of_a_sweep_in_other_units() {
    let us = Units::us();
    assert!((sweep_place(SweepAxis::Temperature, 20.0, us) - 68.0).abs() < 1e-9);
    assert!((sweep_place(SweepAxis::Elevation, 304.8, us) - 1000.0).abs() < 1e-6);
    assert!((sweep_place(SweepAxis::PayloadMass, 10.0, us) - 22.046_226).abs() < 1e-4);
    assert!((sweep_place(SweepAxis::PackCapacity, 7000.0, us) - 7000.0).abs() < 1e-9);
}

#[test]
fn regress_a_crossing_is_told_to_the_side_that_can_be_flown() {
    use liftmargin_core::limits::CheckKind;
    use liftmargin_document::sweep::{Crossing, Side, Sweep};
    use liftmargin_document::words::contingency::crossings;
    let told = |at, beyond, axis, units| {
        let crossing = Crossing { at, beyond, check: Some(CheckKind::Balance) };
        crossings(&Sweep { crossings: vec![crossing], ..Sweep::default() }, axis, units)
    };
    let metric = Units::metric();
    let table = [
        (
            told(10.298, Side::Above, SweepAxis::PayloadMass, metric),
            "Above 10.2\u{a0}kg it says no: balance.",
        ),
        (
            told(10.201, Side::Below, SweepAxis::PayloadMass, metric),
            "Below 10.3\u{a0}kg it says no: balance.",
        ),
        (
            told(0.5629, Side::Below, SweepAxis::RotorDiameter, metric),
            "Below 563\u{a0}mm it says no: balance.",
        ),
        (
            told(0.5629, Side::Below, SweepAxis::RotorDiameter, Units::us()),
            "Below 22.2\u{a0}in it says no: balance.",
        ),
        (told(1249.0, Side::Above, SweepAxis::Distance, metric), "Above 1240\u{a0}m it says no: balance."),
    ];
    for (words, expected) in table {
        assert_eq!(words, expected);
    }
    let none = crossings(&Sweep::default(), SweepAxis::Wind, metric);
    assert_eq!(none, "No limit is crossed in this range.");
}

/// NBS Handbook 100: 10 AWG copper has 0.9989 ohm per 1,000 ft (304.8 m) at 20 °C; at 50 °C 11.8 % more.
#[test]
fn val_wire_table_leads_by_gauge_reach_the_supply() {
    let mut bundle = open_strict(DEMO).expect("the demo opens");
    let id = bundle.setups[0].id.clone();
    let before = resolve(&bundle, &id).expect("resolves").0.supply.string_resistance.value;
    bundle.setups[0].supply.lead_gauge_awg = Some(10);
    bundle.setups[0].supply.lead_length_m = Some(1.2);
    let after = resolve(&bundle, &id).expect("resolves").0.supply.string_resistance.value;
    let expected = 0.9989 / 304.8 * 1.2 * 1.1179;
    assert!(((after - before) / expected - 1.0).abs() < 2e-3, "{}", after - before);
    bundle.setups[0].supply.lead_length_m = None;
    assert_eq!(resolve(&bundle, &id).expect_err("half given").field(), "setups[0].supply.lead_length_m");
}
