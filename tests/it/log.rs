//! The log: frozen copies, what flights teach, what a card makes of it, and the ways in and out.

use std::fmt::Write as _;

use liftmargin_core::spread::Uncertainty;
use liftmargin_core::units::Time;
use liftmargin_document::card_report::report;
use liftmargin_document::log::report::corrections;
use liftmargin_document::log::{
    Coverage, Landing, LiftOff, LogFilter, TimedSetup, as_csv, as_file, by_day, by_hand, coverage, delete,
    edited, exclude, flown_bundle, in_the_air, land, learn, lift_off, of_recording, overlay, overlay_of,
    recording_of, resolve_flown, rows, set_correction,
};
use liftmargin_document::merge::merge;
use liftmargin_document::model::{Airframe, Bundle, Flight, Setup};
use liftmargin_document::open::{open_strict, open_strict_with_notes, save};
use liftmargin_document::record::{Record, closed};
use liftmargin_document::resolve;
use liftmargin_document::trace::{MOST_POINTS, read};
use proptest::prelude::*;
use uom::si::electric_charge::milliampere_hour;
use uom::si::time::second;

use crate::table::assert_close;

const DEMO: &str = include_str!("../../demo-data/mountain-road.json");
const SAMPLE: &str = include_str!("../../src/document/examples/correct.json");
const NOW: f64 = 1_795_664_676_000.0;
const HOUR: f64 = 3_600_000.0;

fn demo() -> Bundle {
    open_strict(DEMO).expect("the demo opens")
}

/// What the model says a flight of a setup uses, mAh.
fn said(bundle: &Bundle, setup: &str, time_s: f64) -> f64 {
    let (setup, site) = resolve(bundle, setup).expect("resolves");
    let timed = TimedSetup::new(&setup, &site).unwrap().expect("comes home");
    timed.used(Time::new::<second>(time_s)).unwrap().used.expect("flies").get::<milliampere_hour>()
}

/// So many flights by hand, each using so much more than the model says; the last an hour ago.
fn flown(bundle: &Bundle, setup: &str, factors: &[f64]) -> Bundle {
    let mut bundle = bundle.clone();
    for (place, factor) in factors.iter().enumerate() {
        let time_s = 300.0 + 20.0 * (place % 8) as f64;
        let mut bare = bundle.clone();
        bare.airframes.iter_mut().for_each(|airframe| airframe.correction = None);
        let landing = Landing {
            flight_time_s: time_s,
            used_mah: Some(said(&bare, setup, time_s) * factor),
            now_unix_ms: NOW,
            ..Landing::default()
        };
        let at = NOW - HOUR * (factors.len() - place) as f64;
        bundle = by_hand(&bundle, setup, at, &landing).expect("an entry").0;
    }
    bundle
}

fn airframe<'a>(bundle: &'a Bundle, setup: &str) -> &'a Airframe {
    let (_, setup) = Setup::find(bundle, setup).unwrap();
    Airframe::find(bundle, &setup.airframe).unwrap().1
}

#[test]
fn regress_a_flight_is_kept_as_flown_whatever_is_edited_later() {
    let (bundle, id) =
        lift_off(&demo(), &demo(), "bend-zoom", LiftOff { now_unix_ms: NOW, ..LiftOff::default() }).unwrap();
    assert_eq!(in_the_air(&bundle).map(|flight| flight.id.as_str()), Some(id.as_str()));
    let (_, flight) = Flight::find(&bundle, &id).unwrap();
    let before = resolve_flown(&bundle, flight, true).unwrap();
    assert_eq!(before, resolve(&demo(), "bend-zoom").unwrap());
    let mut later = bundle.clone();
    later.items.iter_mut().for_each(|item| item.mass_kg += 1.0);
    later.sites.iter_mut().for_each(|site| site.temperature_c = 3.0);
    later.setups.clear();
    let (_, flight) = Flight::find(&later, &id).unwrap();
    assert_eq!(resolve_flown(&later, flight, true).unwrap(), before);
    let landed = land(
        &bundle,
        &id,
        &Landing {
            flight_time_s: 400.0,
            used_mah: Some(10_500.0),
            now_unix_ms: NOW + 5e5,
            ..Landing::default()
        },
    )
    .unwrap();
    let (_, flight) = Flight::find(&landed, &id).unwrap();
    assert!(flight.aloft.is_none() && flight.predicted.as_ref().unwrap().power_factor.is_some());
    assert!(in_the_air(&landed).is_none());
    assert_eq!(open_strict(&save(&landed).unwrap()), Ok(landed), "it is saved and opened as it was");
}

#[test]
fn regress_flights_of_one_setup_share_its_copy_and_deletion_lets_it_go() {
    let bundle = flown(&demo(), "bend-zoom", &[1.0, 1.01]);
    // The first flight taught a correction, which is part of what is flown from then on.
    assert_eq!(bundle.flown_setups.len(), 2);
    let bundle = {
        let off = set_correction(&bundle, &airframe(&bundle, "bend-zoom").id.clone(), false, None, NOW);
        flown(&off, "bend-follow", &[1.0, 1.0])
    };
    let copies = bundle.flown_setups.len();
    let ids: Vec<String> = bundle.flights.iter().map(|flight| flight.id.clone()).collect();
    let left = ids.iter().fold(bundle, |left, id| delete(&left, id, NOW).expect("deletes"));
    assert!(left.flown_setups.is_empty() && left.flights.is_empty() && copies >= 3);
    assert_eq!(airframe(&left, "bend-zoom").correction.as_ref().map(|learned| learned.flights), None);
}

/// The card after four flights that used 6 % more: it says so, and its times are those of 6 % more power.
#[test]
fn regress_the_next_card_is_corrected_and_can_be_seen_without() {
    let before = report(&demo()).unwrap();
    let bundle = flown(&demo(), "bend-follow", &[1.06, 1.07, 1.05, 1.06]);
    let learned = airframe(&bundle, "bend-follow").correction.clone().expect("learned");
    assert_eq!((learned.on, learned.flights), (true, 4));
    assert!((learned.factor - 1.05).abs() < 0.02, "{learned:?}");
    let words = liftmargin_document::words::corrected_by(learned.flights, learned.factor, learned.spread);
    assert!(words.starts_with("corrected by 4 flights: +"), "{words}");
    let after = report(&bundle).unwrap();
    let (was, now) = (&before[0], &after[0]);
    assert!(now.flight_time_s < was.flight_time_s && now.cautious_flight_time_s < was.cautious_flight_time_s);
    assert_close(now.hover_power_w / was.hover_power_w, learned.assured_factor, 1e-9, "hover power");
    let off = set_correction(&bundle, &airframe(&bundle, "bend-follow").id.clone(), false, None, NOW);
    assert_eq!(report(&off).unwrap(), before, "switched off it is the card of before");
}

/// Flights that used less: credited only as far as they assure it, never thrust or currents.
#[test]
fn regress_less_power_is_credited_only_as_far_as_assured() {
    let before = report(&demo()).unwrap();
    let bundle = flown(&demo(), "bend-follow", &[0.9]);
    let one = airframe(&bundle, "bend-follow").correction.clone().unwrap();
    assert!(one.factor < one.assured_factor && one.assured_factor <= 1.0, "{one:?}");
    let bundle = flown(&demo(), "bend-follow", &[0.9; 8]);
    let eight = airframe(&bundle, "bend-follow").correction.clone().unwrap();
    assert!(eight.assured_factor < one.assured_factor && eight.assured_factor >= 0.9, "{eight:?}");
    let after = report(&bundle).unwrap();
    assert!(after[0].flight_time_s > before[0].flight_time_s);
    assert!(after[0].thrust_to_weight <= before[0].thrust_to_weight + 1e-9);
    let of = |cards: &[liftmargin_document::card_report::CardReport]| {
        cards[0].checks.iter().find(|check| check.kind == "motor-current").and_then(|check| check.value)
    };
    assert_eq!(of(&after), of(&before), "currents are not made smaller");
}

/// A flight at another mass and place teaches the same factor: each is predicted from its own copy.
#[test]
fn regress_conditions_are_accounted_for() {
    let mut bundle = flown(&demo(), "bend-follow", &[1.08, 1.08]);
    bundle.sites.iter_mut().for_each(|site| site.elevation_m = 400.0);
    bundle.items.iter_mut().for_each(|item| item.mass_kg *= 1.2);
    let bundle = flown(&bundle, "bend-follow", &[1.08, 1.08]);
    let log = learn(&bundle, &airframe(&bundle, "bend-follow").id, NOW, true).unwrap();
    assert_eq!(log.taught.len(), 4);
    for taught in &log.taught {
        // More charge at constant power means a little less than that much more power: the packs sag more.
        assert!((taught.power_factor - 1.07).abs() < 0.02, "{taught:?}");
    }
}

#[test]
fn regress_odd_flights_are_told_and_only_a_person_leaves_them_out() {
    let bundle = flown(&demo(), "bend-follow", &[1.05, 1.06, 1.04, 1.05, 1.45]);
    let id = airframe(&bundle, "bend-follow").id.clone();
    let log = learn(&bundle, &id, NOW, false).unwrap();
    let [odd] = log.odd.as_slice() else { panic!("{:?}", log.odd) };
    assert!(odd.over_the_others > 1.2 && odd.reason.contains("more power"), "{odd:?}");
    assert_eq!(log.correction.flights, 5, "it still counts, a little");
    let without = exclude(&bundle, &odd.id, true, NOW);
    let log = learn(&without, &id, NOW, false).unwrap();
    assert_eq!((log.correction.flights, log.odd.len()), (4, 0));
    assert_eq!(log.left_out[0].reason, "left out by a person");
    let back = exclude(&without, &odd.id, false, NOW);
    assert_eq!(learn(&back, &id, NOW, false).unwrap().correction.flights, 5);
}

#[test]
fn regress_an_edited_entry_is_learned_anew_and_old_ones_fade_by_choice() {
    let bundle = flown(&demo(), "bend-follow", &[1.05, 1.05, 1.05]);
    let id = bundle.flights[0].id.clone();
    let used = bundle.flights[0].used_mah.unwrap();
    let more = edited(&bundle, &id, NOW, |flight| flight.used_mah = Some(used * 1.1));
    let factor = |bundle: &Bundle| airframe(bundle, "bend-follow").correction.clone().unwrap().factor;
    assert!(factor(&more) > factor(&bundle));
    let craft = airframe(&bundle, "bend-follow").id.clone();
    let year = 365.0 * 24.0 * HOUR;
    let old = edited(&more, &id, NOW, |flight| flight.lift_off_unix_ms = NOW - year);
    let fading = set_correction(&old, &craft, true, Some(30.0), NOW);
    assert!(
        factor(&fading) < factor(&more) && airframe(&fading, "bend-follow").correction.as_ref().unwrap().on
    );
    // What cannot be predicted teaches nothing, and says why.
    let none = edited(&bundle, &id, NOW, |flight| flight.used_mah = None);
    let log = learn(&none, &craft, NOW, false).unwrap();
    assert_eq!((log.taught.len(), log.left_out.len()), (2, 1));
    assert!(log.left_out[0].reason.contains("used_mah"), "{:?}", log.left_out);
}

#[test]
fn regress_the_log_goes_out_and_in_again() {
    let bundle = flown(&demo(), "bend-follow", &[1.05, 1.06]);
    let all = LogFilter::default();
    let csv = as_csv(&bundle, &all);
    let lines: Vec<&str> = csv.lines().collect();
    assert_eq!(lines.len(), 3);
    assert!(
        lines[0].starts_with("id,lift_off_utc,setup") && lines[1].contains("2026-11-26T01:44:36Z"),
        "{csv}"
    );
    let file = as_file(&bundle, &all).unwrap();
    let alone = open_strict(&file).unwrap();
    assert_eq!((alone.flights.len(), alone.airframes.len(), alone.setups.len()), (2, 1, 0));
    let taken_in = merge(&demo(), &alone).bundle;
    assert_eq!(taken_in.flights, bundle.flights);
    assert_eq!(merge(&taken_in, &alone).added, 0, "the same file again adds nothing");
    let told = corrections(&alone).unwrap();
    assert_eq!((told.len(), told[0].flights), (1, 2));
    let nothing = as_csv(&bundle, &LogFilter { setup: "ridge-zoom".to_owned(), ..LogFilter::default() });
    assert_eq!(nothing.lines().count(), 1);
}

#[test]
fn regress_a_setup_goes_out_without_the_log() {
    let bundle = flown(&demo(), "bend-follow", &[1.05]);
    let alone = closed(&bundle, "bend-follow").unwrap();
    assert!(alone.flights.is_empty() && alone.flown_setups.is_empty());
    let (inside, setup) = flown_bundle(&bundle, &bundle.flights[0]).unwrap();
    assert!(inside.flights.is_empty() && setup == "bend-follow");
}

/// Packs that tire stand lower at rest than the model says after the same charge: the trend shows it.
#[test]
fn regress_the_rest_voltage_is_held_against_the_model() {
    let setup = "bend-zoom";
    let one = |rest_cell_voltage_v: Option<f64>| {
        let used_mah = Some(said(&demo(), setup, 300.0));
        let landing = Landing {
            flight_time_s: 300.0,
            used_mah,
            rest_cell_voltage_v,
            now_unix_ms: NOW,
            ..Landing::default()
        };
        let (bundle, _) = by_hand(&demo(), setup, NOW - HOUR, &landing).expect("an entry");
        let model_v = bundle.flights[0].predicted.as_ref().unwrap().rest_cell_voltage_v.expect("said");
        (model_v, rows(&bundle, &LogFilter::default())[0].rest_over_model_mv)
    };
    let (model_v, none) = one(None);
    assert!((3.6..4.1).contains(&model_v) && none.is_none(), "{model_v}");
    let (_, lower) = one(Some(model_v - 0.03));
    assert!((lower.expect("both known") + 30.0).abs() < 0.1, "{lower:?}");
}

/// Four in five inside: 9 of 12 is about right (chance of 9 or fewer: 0.44, binomial table), 3 of 12 is not, 40 of 40 neither.
#[test]
fn val_binomial_coverage_words() {
    let words = |inside, of| Coverage { inside, of }.words();
    assert_eq!(words(9, 12), "9 of 12 flights inside the band: about right");
    assert!(words(3, 12).contains("fewer than four in five"));
    assert!(words(40, 40).contains("more than four in five"));
    assert!(words(1, 1).contains("too few"));
    assert_eq!(words(0, 0), "");
    assert!(words(0, 2000).contains("fewer"));
}

#[test]
fn regress_rows_show_the_band_that_was_said_before() {
    let bundle = flown(&demo(), "bend-follow", &[1.0, 1.0, 1.6]);
    let listed = rows(&bundle, &LogFilter::default());
    assert!(listed[0].lift_off_unix_ms > listed[2].lift_off_unix_ms, "newest first");
    assert_eq!(
        listed.iter().map(|row| row.inside).collect::<Vec<_>>(),
        [Some(false), Some(true), Some(true)]
    );
    assert_eq!(coverage(&listed), Coverage { inside: 2, of: 3 });
}

#[test]
fn regress_the_list_stands_by_day() {
    let bundle = demo();
    let setup = bundle.setups[0].id.clone();
    let mut with = flown(&bundle, &setup, &[1.0, 1.0, 1.0]);
    // Twenty minutes before and after midnight of world time; the third an hour later.
    for (flight, minutes) in with.flights.iter_mut().zip([-20.0, 20.0, 80.0]) {
        flight.lift_off_unix_ms = 1_764_115_200_000.0 + 60_000.0 * minutes;
    }
    let listed = rows(&with, &LogFilter::default());
    let counts = |east_min: f64| -> Vec<(String, usize)> {
        by_day(&listed, |_| east_min).into_iter().map(|(day, ids)| (day, ids.len())).collect()
    };
    let day = |day: &str, count| (day.to_owned(), count);
    assert_eq!(counts(0.0), [day("2025-11-26", 2), day("2025-11-25", 1)]);
    assert_eq!(counts(60.0), [day("2025-11-26", 3)]);
    assert_eq!(counts(-60.0), [day("2025-11-26", 1), day("2025-11-25", 2)]);
}

/// The sample of the `correct` example: seven flights about 6 % over the model, one of them wild, one left out.
#[test]
fn regress_the_sample_of_the_correct_example() {
    let opened = open_strict_with_notes(SAMPLE).expect("the sample opens");
    assert!(opened.unknown.is_empty(), "{:?}", opened.unknown);
    let told = corrections(&opened.bundle).unwrap();
    let [one] = told.as_slice() else { panic!("{told:?}") };
    assert_eq!((one.flights, one.odd.len(), one.left_out.len()), (7, 1, 1));
    assert_eq!(one.odd[0].flight, "flight-6");
    assert!((one.factor - 1.06).abs() < 0.02, "{}", one.factor);
    assert!(one.interval_90[0] < one.interval_80[0] && one.interval_80[1] < one.interval_90[1]);
    let mut asked = opened.bundle.clone();
    asked.extra.insert("airframe".to_owned(), "nobody".into());
    assert!(corrections(&asked).is_err_and(|fault| fault.field() == "airframe"));
    let none = Bundle { flights: Vec::new(), ..opened.bundle };
    assert!(corrections(&none).is_err_and(|fault| fault.field() == "flights"));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    /// Whatever the log says, the card stays a card, and is never bolder than the model by more than nine in ten of what is
    /// plausible assure.
    #[test]
    fn prop_a_corrected_card_is_never_bolder_than_assured(factors in proptest::collection::vec(0.7..1.5f64, 1..6)) {
        let bundle = flown(&demo(), "bend-follow", &factors);
        let airframe = airframe(&bundle, "bend-follow");
        let learned = airframe.correction.as_ref().expect("learned");
        let log = learn(&bundle, &airframe.id, NOW, false).unwrap();
        prop_assert!(learned.assured_factor >= log.correction.interval_80[1].value.min(1.0) - 1e-12);
        let (setup, site) = resolve(&bundle, "bend-follow").unwrap();
        prop_assert!(Uncertainty::for_airframe(&setup.airframe).power.value >= 0.03);
        let card = liftmargin_core::card::card(&setup, &site, &liftmargin_core::limits::Thresholds::default());
        prop_assert!(card.is_ok());
    }
}

/// Twenty thousand rows, five a second, of a pack that sinks, with one dip.
fn recorded() -> String {
    let mut text = "time_s,voltage_v,current_a\n".to_owned();
    for row in 0..20_000 {
        let dip = if row == 9_777 { 3.0 } else { 0.0 };
        let time_s = 0.05 * f64::from(row);
        let (voltage_v, current_a) = (50.0 - 0.006 * time_s - dip, 60.0 + (time_s / 7.0).sin());
        writeln!(text, "{time_s:.2},{voltage_v:.3},{current_a:.2}").unwrap();
    }
    text
}

#[test]
fn regress_a_recording_is_kept_with_its_entry_and_goes_with_it() {
    let trace = read(recorded().as_bytes(), None).expect("a recording");
    let demo = demo();
    let (bundle, id) = of_recording(&demo, "bend-follow", "first.csv", &trace, NOW).expect("an entry");
    let kept = recording_of(&bundle, &id).expect("kept").points.rows();
    assert!(kept.len() <= MOST_POINTS && kept.len() > 1000, "{}", kept.len());
    assert!(kept.iter().any(|row| (row.voltage_v - trace.totals.lowest_voltage_v.unwrap()).abs() < 6e-4));
    for (kept, row) in kept.iter().zip(&trace.points) {
        assert!((kept.time_s - row.time_s).abs() < 6e-4 && (kept.voltage_v - row.voltage_v).abs() < 6e-4);
        assert!((kept.current_a - row.current_a).abs() < 6e-3 && (kept.used_mah - row.used_mah).abs() < 0.6);
    }
    let saved = save(&bundle).expect("saves");
    assert!(saved.len() < 80_000 + save(&demo).unwrap().len(), "{} bytes", saved.len());
    assert_eq!(open_strict(&saved).expect("opens"), bundle);
    let [voltage, current, used] = overlay_of(&bundle, &id).expect("drawn");
    assert!(voltage.difference.len() > 100 && current.difference.len() > 100 && used.difference.len() > 100);
    assert_eq!(voltage.recorded, overlay(&kept, None)[0].recorded);
    let file = as_file(&bundle, &LogFilter::default()).unwrap();
    let taken_in = merge(&demo, &open_strict(&file).unwrap()).bundle;
    assert_eq!(taken_in.recordings, bundle.recordings);
    let left = delete(&bundle, &id, NOW).expect("deletes");
    assert!(left.recordings.is_empty() && left.flights.is_empty());
}

proptest! {
    #[test]
    fn prop_any_text_is_read_as_rows(text in ".{0,300}") {
        let points = liftmargin_document::model::Points::from(text);
        prop_assert!(points.rows().iter().all(|row| row.time_s.is_finite()));
    }
}
