//! Samples flown in a thread of its own: question and answer as texts give the figures of the page, to the bit.

use liftmargin_core::card::{Cautious, Prepared};
use liftmargin_core::limits::Thresholds;
use liftmargin_core::spread::Uncertainty;
use liftmargin_document::apart::{answer, flown, question};
use liftmargin_document::card_report::{SAMPLES, SEED};
use liftmargin_document::model::Bundle;
use liftmargin_document::open_strict;
use liftmargin_document::resolve::{resolve, resolve_airframe};
use liftmargin_document::sheet::SheetInputs;
use liftmargin_document::sweep::{MassOf, PointWork, SweepAxis, Sweeper};
use liftmargin_document::whatif::{Change, WhatIf, apply};
use proptest::prelude::*;

const DEMO: &str = include_str!("../../demo-data/mountain-road.json");

fn demo() -> Bundle {
    open_strict(DEMO).expect("the demo opens")
}

fn here(inputs: &SheetInputs) -> Option<Cautious> {
    let uncertainty = Uncertainty::for_airframe(&inputs.setup.airframe);
    let at = Prepared::new(&inputs.setup, &inputs.site, &inputs.thresholds).expect("prepared");
    at.sampler(&uncertainty, SEED).expect("a sampler").and_then(|sampler| sampler.cautious(SAMPLES))
}

fn elsewhere(question: &str) -> Option<Cautious> {
    flown(&answer(question).expect("an answer")).expect("figures")
}

fn of_setup(bundle: &Bundle, id: &str) -> SheetInputs {
    let (setup, site) = resolve(bundle, id).expect("resolves");
    SheetInputs { setup, site, thresholds: Thresholds::default() }
}

#[test]
fn every_setup_of_the_demo_flies_elsewhere_as_here() {
    let bundle = demo();
    for setup in &bundle.setups {
        let asked = question(&bundle, &setup.id).expect("a question");
        let expected = here(&of_setup(&bundle, &setup.id));
        assert!(expected.is_some(), "{} has cautious figures", setup.id);
        assert_eq!(elsewhere(&asked), expected, "{}", setup.id);
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    #[test]
    fn prop_a_what_if_flies_elsewhere_as_here(
        place in 0_usize..100,
        mass_kg in 0.0..9.0_f64,
        wind_m_s in 0.0..14.0_f64,
        temperature_c in -15.0..40.0_f64,
        height_m in 0.0..200.0_f64,
    ) {
        let mut bundle = demo();
        for site in &mut bundle.sites {
            (site.wind_m_s, site.gust_m_s, site.temperature_c) = (wind_m_s, wind_m_s * 1.3, temperature_c);
        }
        for setup in &mut bundle.setups {
            setup.profile.height_m = height_m;
        }
        let id = bundle.setups[place % bundle.setups.len()].id.clone();
        let heavier = WhatIf { changes: vec![Change::ExtraMass { mass_kg, position_m: [0.05, 0.0, 0.3] }] };
        let changed = apply(&bundle, &id, &heavier).expect("applies");
        // As the page has it: the airframe learned from the setup as saved.
        let asked = question(&changed, &id).expect("a question");
        prop_assert_eq!(elsewhere(&asked), here(&of_setup(&changed, &id)));
    }
}

#[test]
fn every_place_of_a_sweep_flies_elsewhere_as_here() {
    let bundle = demo();
    let setup = &bundle.setups[0];
    let airframe = bundle.airframes.iter().find(|one| one.id == setup.airframe).expect("an airframe");
    let learned = resolve_airframe(airframe).expect("resolves");
    let extra = MassOf::Extra([0.0, 0.0, 0.3]);
    let over_mass = Sweeper::over_mass(&bundle, &setup.id, &learned, &WhatIf::default(), extra, 4.0);
    let over_axes =
        SweepAxis::ALL.map(|axis| Sweeper::over(&bundle, &setup.id, &learned, axis, 4).expect("sweeps"));
    let mut compared = 0;
    for mut sweeper in over_axes.into_iter().chain(over_mass) {
        while let Some(at) = sweeper.wanted().filter(|_| !sweeper.wants_verdict_only()) {
            let point = sweeper.inputs(at).map(|inputs| {
                let mut work = PointWork::new(&inputs, false).expect("a card");
                if work.is_sampled() {
                    let flown = elsewhere(&sweeper.question(at).expect("a question"));
                    assert_eq!(flown, here(&inputs), "{at}");
                    compared += 1;
                    return work.finish_with(at, flown.as_ref());
                }
                while !work.step() {}
                work.finish(at)
            });
            let expected = sweeper.point(at);
            assert_eq!(point.as_ref().ok(), expected.as_ref().ok());
            sweeper.take(point).expect("taken");
        }
    }
    assert!(compared > 30, "{compared} places");
}

#[test]
fn what_does_not_fly_and_what_is_no_answer_are_told_apart() {
    let bundle = demo();
    let id = &bundle.setups[0].id;
    let mut blown = bundle.clone();
    for site in &mut blown.sites {
        (site.wind_m_s, site.gust_m_s) = (24.0, 28.0);
    }
    for setup in &mut blown.setups {
        setup.profile.distance_m = 500.0;
    }
    let asked = question(&blown, id).expect("a question");
    assert_eq!(flown(&answer(&asked).expect("an answer")), Some(None), "no way home: no samples");
    for no_answer in ["", "{}", "[1]", r#"{"flight_time_s":1}"#, "null null"] {
        assert_eq!(flown(no_answer), None, "{no_answer}");
    }
    let of_nobody = question(&bundle, "nobody").expect("a question");
    assert!(answer("").is_err() && answer("{}").is_err() && answer(&of_nobody).is_err());
}
