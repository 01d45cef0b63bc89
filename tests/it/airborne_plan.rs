//! A flight followed from its entry and stamps of the clock.

use liftmargin_core::airborne::{AlarmKind, CautiousMarks, ReadingDoubt};
use liftmargin_core::card::{Outcome, card};
use liftmargin_core::limits::Thresholds;
use liftmargin_core::units::{ElectricCharge, Length, Velocity};
use liftmargin_document::airborne::report::fly_along;
use liftmargin_document::airborne::{
    ClockStep, FlownOn, Home, PlannedFlight, clock_step, flown_on, follow, lift_off_list, rest_voltage_after,
    running, set_back_unseen, set_lift_off_list, shown, starting_at, try_reading,
};
use liftmargin_document::log::{Landing, LiftOff, land, lift_off, resolve_flown};
use liftmargin_document::model::{Bundle, Flight, Reading, Touched};
use liftmargin_document::open::{open_strict, open_strict_with_notes};
use liftmargin_document::present::Units;
use liftmargin_document::record::Record;
use liftmargin_document::resolve;
use liftmargin_document::words::{alarm, reading_doubt};
use uom::si::electric_charge::milliampere_hour;
use uom::si::electric_potential::volt;
use uom::si::length::meter;
use uom::si::velocity::meter_per_second;

use crate::table::assert_close;

const DEMO: &str = include_str!("../../demo-data/mountain-road.json");
const SAMPLE: &str = include_str!("../../src/document/examples/fly_along.json");
const START: f64 = 1_795_664_676_000.0;

fn demo() -> Bundle {
    open_strict(DEMO).expect("the demo opens")
}

fn mah(value: f64) -> ElectricCharge {
    ElectricCharge::new::<milliampere_hour>(value)
}

/// Cautious marks of a card.
fn of_card(land_by_mah: f64, turn_back_mah: f64) -> CautiousMarks {
    CautiousMarks { land_by: mah(land_by_mah), turn_back: mah(turn_back_mah) }
}

/// A flight that has lifted off, with its plan.
fn aloft(at: LiftOff) -> (Flight, PlannedFlight) {
    let (bundle, id) =
        lift_off(&demo(), &demo(), "bend-zoom", LiftOff { now_unix_ms: START, ..at }).expect("lifts off");
    let (_, flight) = Flight::find(&bundle, &id).unwrap();
    let (setup, site) = resolve_flown(&bundle, flight, true).unwrap();
    let plan = PlannedFlight::new(&setup, &site, Some(of_card(15_800.0, 15_800.0))).unwrap().expect("flies");
    (flight.clone(), plan)
}

fn reading(time_s: f64, used_mah: f64) -> Reading {
    Reading { time_s, used_mah: Some(used_mah), ..Reading::default() }
}

/// Without a reading it is the card's own flight.
#[test]
fn regress_the_plan_is_the_cards_flight() {
    let (flight, plan) = aloft(LiftOff::default());
    let (setup, site) = resolve(&demo(), "bend-zoom").unwrap();
    let card = card(&setup, &site, &Thresholds::default()).unwrap();
    let Outcome::Flies(of_card) = card.outcome else { panic!("flies") };
    let at = follow(&plan, &flight, Home::Planned, START).unwrap();
    let warm_up_s = setup.profile.warm_up.value;
    assert_close(at.planned.land_by_mah, of_card.marks.land_by.get::<milliampere_hour>(), 1e-9, "land by");
    assert_close(
        at.planned.turn_back_mah,
        of_card.marks.turn_back.get::<milliampere_hour>(),
        1e-9,
        "turn back",
    );
    assert_close(at.planned.turn_back_at_s, of_card.turn_back_at.value - warm_up_s, 1e-9, "turn back at");
    assert_close(at.middle.land_by_at_s, of_card.land_by_at.value - warm_up_s, 1e-3, "down at");
    assert!(at.cautious.land_by_mah <= 15_800.0 && at.cautious.land_by_at_s < at.middle.land_by_at_s);
}

/// Everything follows from the stamps: it is the same whoever looks, and whenever the page was gone in between.
#[test]
fn regress_alarms_after_the_page_was_gone() {
    let (mut flight, plan) = aloft(LiftOff::default());
    let early = follow(&plan, &flight, Home::Planned, START + 60_000.0).unwrap();
    assert!(early.sounding.is_empty());
    let (next, at_s) = early.next.expect("something is next");
    assert_eq!(next, AlarmKind::BeforeTurnBack);
    let late = follow(&plan, &flight, Home::Planned, START + 1000.0 * (early.cautious.turn_back_at_s + 1.0))
        .unwrap();
    assert_eq!(late.sounding, [AlarmKind::TurnBack, AlarmKind::BeforeTurnBack]);
    assert!((late.next.unwrap().1 - at_s).abs() > 60.0);
    let touched = |kind: AlarmKind| Touched {
        alarm: kind.key().to_owned(),
        time_s: late.elapsed_s,
        ..Touched::default()
    };
    flight.aloft.as_mut().unwrap().touched = late.sounding.iter().copied().map(touched).collect();
    let silent = follow(&plan, &flight, Home::Planned, START + 1000.0 * (late.elapsed_s + 1.0)).unwrap();
    assert!(silent.sounding.is_empty());
    let over =
        follow(&plan, &flight, Home::Planned, START + 1000.0 * (early.cautious.land_by_at_s + 30.0)).unwrap();
    assert_eq!(over.sounding, [AlarmKind::LandBy, AlarmKind::BeforeLandBy]);
}

#[test]
fn regress_a_meter_that_ran_on_moves_every_mark() {
    let (plain, plan) = aloft(LiftOff::default());
    let (ran_on, _) = aloft(LiftOff { meter_start_mah: 3000.0, ..LiftOff::default() });
    let with = |mut flight: Flight, start: f64| {
        flight.readings.push(reading(120.0, start + 2900.0));
        follow(&plan, &flight, Home::Planned, START + 120_000.0).unwrap()
    };
    let (zero, three) = (with(plain, 0.0), with(ran_on.clone(), 3000.0));
    assert!(zero.refused.is_empty() && three.refused.is_empty());
    for (zero, three) in [
        (zero.used_mah, three.used_mah),
        (zero.cautious.land_by_mah, three.cautious.land_by_mah),
        (zero.cautious.turn_back_mah, three.cautious.turn_back_mah),
    ] {
        assert_close(three, zero + 3000.0, 1e-9, "as the meter shows it");
    }
    assert_close(three.offset_mah, 3000.0, 1e-9, "what it started from");
    assert_close(three.cautious.land_by_at_s, zero.cautious.land_by_at_s, 1e-9, "the same minute");
    // Words name the meter's own figure.
    let high = reading(120.0, 40_000.0);
    let Err(doubt @ ReadingDoubt::AboveCapacity { capacity }) = try_reading(&plan, &ran_on, &high) else {
        panic!("asked back")
    };
    assert!(capacity > mah(20_000.0) && reading_doubt(&doubt).contains("nothing is left"));
}

/// Down and up again without a swap: what is left is what it starts from.
#[test]
fn regress_flying_on_starts_from_what_is_left() {
    let (setup, site) = resolve(&demo(), "bend-zoom").unwrap();
    let rest = rest_voltage_after(&setup, mah(6000.0)).expect("packs");
    assert!(rest < setup.supply.strings[0].packs[0].cell.chemistry.full_voltage());
    let again = starting_at(&demo(), "bend-zoom", rest.get::<volt>());
    let (left, _) = resolve(&again, "bend-zoom").unwrap();
    let fresh = PlannedFlight::new(&setup, &site, None).unwrap().unwrap();
    let used = PlannedFlight::new(&left, &site, None).unwrap().unwrap();
    let less = (fresh.course.land_by - used.course.land_by).get::<milliampere_hour>();
    assert_close(less, 6000.0, 0.02, "land-by falls by what was used");
    let at =
        LiftOff { now_unix_ms: START, rest_cell_voltage_v: Some(rest.get::<volt>()), ..LiftOff::default() };
    let (bundle, id) = lift_off(&demo(), &demo(), "bend-zoom", at).unwrap();
    assert_eq!(bundle.setups, demo().setups, "the saved setup stays as it is");
    let (_, flight) = Flight::find(&bundle, &id).unwrap();
    let (flown, _) = resolve_flown(&bundle, flight, true).unwrap();
    assert_eq!(flown.supply, left.supply);
    let landing = Landing {
        flight_time_s: 200.0,
        used_mah: Some(4800.0),
        now_unix_ms: START + 3e5,
        ..Landing::default()
    };
    let landed = land(&bundle, &id, &landing).unwrap();
    assert!(Flight::find(&landed, &id).unwrap().1.predicted.is_some());
}

#[test]
fn regress_another_distance_and_wind_now() {
    let (setup, site) = resolve(&demo(), "bend-zoom").unwrap();
    let way = |distance_m: f64, wind_m_s: f64| {
        let wind = Velocity::new::<meter_per_second>(wind_m_s);
        PlannedFlight::way_home(&setup, &site, Length::new::<meter>(distance_m), wind).unwrap()
    };
    let planned = way(setup.profile.distance.value, site.wind.value).expect("home");
    let (flight, plan) = aloft(LiftOff::default());
    assert_close(planned.used.value, plan.course.way_home.used.value, 0.02, "about the plan's");
    let (far, windy) =
        (way(600.0, site.wind.value).expect("home"), way(setup.profile.distance.value, 7.0).expect("home"));
    assert!(far.used > planned.used && windy.used > planned.used);
    assert!(way(200.0, 25.0).is_none(), "no way home against that");
    let now = START + 60_000.0;
    let (as_planned, from_far) = (
        follow(&plan, &flight, Home::Planned, now).unwrap(),
        follow(&plan, &flight, Home::Now(far), now).unwrap(),
    );
    assert!(from_far.cautious.turn_back_at_s < as_planned.cautious.turn_back_at_s);
    assert!(PlannedFlight::way_home(&setup, &site, Length::new::<meter>(1e6), site.wind).is_err());
}

/// What a pilot flies by in the air is never later than the card said, neither land-by nor turning back.
#[test]
fn prop_no_mark_in_the_air_is_later_than_the_cards() {
    let (setup, site) = resolve(&demo(), "bend-zoom").unwrap();
    let free = PlannedFlight::new(&setup, &site, None).unwrap().expect("flies");
    let (flight, _) = aloft(LiftOff::default());
    let at = |plan: &PlannedFlight| follow(plan, &flight, Home::Planned, START + 60_000.0).unwrap().cautious;
    let free = at(&free);
    for (land_by, turn_back) in [(15_000.0, 12_000.0), (14_000.0, 12_500.0), (15_800.0, 9_000.0)] {
        assert!(turn_back < free.turn_back_mah, "{free:?}");
        let plan =
            PlannedFlight::new(&setup, &site, Some(of_card(land_by, turn_back))).unwrap().expect("flies");
        let marks = at(&plan);
        assert!(marks.land_by_mah <= land_by && marks.turn_back_mah <= turn_back, "{marks:?}");
        assert!(marks.turn_back_at_s < free.turn_back_at_s, "the alarm is as much sooner");
    }
}

/// A wind that leaves no way home is no sentence beside a planned turn-back: turning back is due, and calls until touched.
#[test]
fn regress_no_way_home_calls_to_turn_back_at_once() {
    let (setup, site) = resolve(&demo(), "bend-zoom").unwrap();
    let (mut flight, plan) = aloft(LiftOff::default());
    let home = PlannedFlight::home(&setup, &site, (None, Some(25.0)), 60.0).unwrap();
    assert_eq!(home, Home::None { since_s: 60.0 });
    let now = START + 61_000.0;
    assert!(follow(&plan, &flight, Home::Planned, now).unwrap().sounding.is_empty());
    let at = follow(&plan, &flight, home, now).unwrap();
    assert_eq!(at.sounding.first(), Some(&AlarmKind::TurnBack));
    assert!(at.cautious.turn_back_mah <= at.used_mah && at.cautious.turn_back_at_s <= 60.0);
    let touched =
        |kind: &AlarmKind| Touched { alarm: kind.key().to_owned(), time_s: 62.0, ..Touched::default() };
    flight.aloft.as_mut().unwrap().touched = at.sounding.iter().map(touched).collect();
    assert!(follow(&plan, &flight, home, now + 5000.0).unwrap().sounding.is_empty());
    assert_eq!(PlannedFlight::home(&setup, &site, (None, None), 60.0).unwrap(), Home::Planned);
}

#[test]
fn regress_a_clock_that_jumps_is_noticed() {
    assert_eq!(clock_step(0.0, 0.0, 1000.0, 1000.0), ClockStep::Steady);
    assert_eq!(clock_step(0.0, 0.0, 30_000.0, 1000.0), ClockStep::Steady);
    assert_eq!(clock_step(0.0, 0.0, -3_599_000.0, 1000.0), ClockStep::SetBack { by_s: 3600.0 });
    assert_eq!(clock_step(0.0, 0.0, 3_601_000.0, 1000.0), ClockStep::RanAhead { by_s: 3600.0 });
}

/// Flying on without a swap: what is left by the voltage read, else by the meter, else by the time, the less known the less;
/// a meter that runs on shows all flights since its reset.
#[test]
fn regress_what_flies_on_starts_from_what_is_left() {
    let ended = |used_mah: Option<f64>, rest_cell_voltage_v: Option<f64>| {
        let at = LiftOff { now_unix_ms: START, ..LiftOff::default() };
        let (up, id) = lift_off(&demo(), &demo(), "bend-zoom", at).unwrap();
        let landing = Landing {
            flight_time_s: 200.0,
            used_mah,
            meter_after_mah: used_mah.map(|used| used + 3000.0),
            rest_cell_voltage_v,
            now_unix_ms: START + 3e5,
            ..Landing::default()
        };
        let landed = land(&up, &id, &landing).unwrap();
        let airframe = landed.flights[0].airframe.clone();
        (flown_on(&landed, &airframe), landed)
    };
    let (read, _) = ended(Some(4800.0), Some(3.91));
    assert_eq!((read.rest_cell_voltage_v, read.meter_mah), (Some(3.91), Some(7800.0)));
    let (counted, landed) = ended(Some(4800.0), None);
    let predicted = landed.flights[0].predicted.as_ref().unwrap().rest_cell_voltage_v.unwrap();
    assert_close(counted.rest_cell_voltage_v.unwrap(), predicted, 1e-3, "by the meter");
    let said_mah = landed.flights[0].predicted.as_ref().unwrap().used_mah.unwrap();
    let (as_said, _) = ended(Some(said_mah), None);
    let (timed, _) = ended(None, None);
    assert!(timed.rest_cell_voltage_v.unwrap() < as_said.rest_cell_voltage_v.unwrap(), "by the time: less");
    assert_eq!((timed.meter_mah, flown_on(&demo(), "eight")), (None, FlownOn::default()));
}

/// The app was closed while the clock was set back: what was noted in the flight says so.
#[test]
fn regress_a_clock_set_back_unseen_is_noticed() {
    let (mut flight, _) = aloft(LiftOff::default());
    assert_eq!(set_back_unseen(&flight, START + 500_000.0), None);
    assert_eq!(set_back_unseen(&flight, START - 60_000.0), Some(60.0));
    flight.readings.push(reading(200.0, 3000.0));
    assert_eq!(set_back_unseen(&flight, START + 199_000.0), None);
    assert_eq!(set_back_unseen(&flight, START + 80_000.0), Some(120.0));
    let touched = Touched { alarm: "turn-back".to_owned(), time_s: 300.0, ..Touched::default() };
    flight.aloft.as_mut().unwrap().touched.push(touched);
    assert_eq!(set_back_unseen(&flight, START + 80_000.0), Some(220.0));
}

/// The sample of the `fly_along` example: 15 % above plan is seen, a digit too many and one too few are asked back, another
/// way home turns it back at once.
#[test]
fn regress_the_sample_of_the_fly_along_example() {
    let opened = open_strict_with_notes(SAMPLE).expect("the sample opens");
    let told = fly_along(&opened.bundle).unwrap();
    let kinds: Vec<Option<&str>> =
        told.after.iter().map(|one| one.asked_back.as_ref().map(|doubt| doubt.kind)).collect();
    assert_eq!(kinds, [None, None, Some("above-capacity"), Some("lower-than-last"), None, None]);
    let third = &told.after[4];
    assert!((third.rate - 1.16).abs() < 0.03 && third.middle.land_by_at_s < told.planned.land_by_at_s);
    assert!(told.after.iter().all(|one| one.cautious.land_by_at_s <= one.middle.land_by_at_s));
    assert_eq!(told.after[5].sounding, ["turn-back", "before-turn-back"]);
    let mut wrong = opened.bundle.clone();
    wrong.extra["fly_along"]["readings"][0]["time"] = 1.into();
    assert!(fly_along(&wrong).is_err_and(|fault| fault.field().starts_with("fly_along.readings[0]")));
    wrong.extra.remove("fly_along");
    assert!(fly_along(&wrong).is_err_and(|fault| fault.field() == "fly_along"));
}

#[test]
fn regress_what_stands_on_the_screen_is_rounded_to_the_safe_side() {
    let (mut flight, plan) = aloft(LiftOff::default());
    let at = follow(&plan, &flight, Home::Planned, START + 90_500.0).unwrap();
    let screen = shown(&at, 0, Units::metric());
    assert_eq!((screen.time.as_str(), screen.projection.as_str()), ("1:30", "As planned: no reading yet."));
    let number = |text: &str| text.replace('\u{202f}', "").parse::<f64>().unwrap();
    assert!(number(&screen.land_by.number) <= at.cautious.land_by_mah);
    assert!(screen.turn_back_in.starts_with("in ") && screen.land_by_in.starts_with("in "));
    flight.readings.push(reading(120.0, 3300.0));
    let at = follow(&plan, &flight, Home::Planned, START + 120_000.0).unwrap();
    let words = shown(&at, 1, Units::metric()).projection;
    assert!(
        words.contains("mAh more than planned, down") && words.ends_with("sooner (by 1 reading)."),
        "{words}"
    );
    let late = follow(&plan, &flight, Home::Planned, START + 4_000_000.0).unwrap();
    let screen = shown(&late, 1, Units::metric());
    assert!(screen.time == "1:06:40" && screen.land_by_in.ends_with("ago"), "{screen:?}");
    assert_eq!(running(f64::NAN), "0:00");
}

#[test]
fn regress_the_list_before_lift_off_is_the_crews_own() {
    let mut bundle = demo();
    assert_eq!(lift_off_list(&bundle).len(), 5);
    set_lift_off_list(&mut bundle, "Props tight\n\n Radio on \n");
    assert_eq!(lift_off_list(&bundle), ["Props tight", "Radio on"]);
    set_lift_off_list(&mut bundle, " \n");
    assert_eq!(bundle, demo());
}

#[test]
fn regress_every_alarm_has_words_and_a_key() {
    for kind in AlarmKind::ALL {
        assert!(!alarm(kind).is_empty());
        assert_eq!(AlarmKind::from_key(kind.key()), Some(kind));
    }
    assert_eq!(AlarmKind::from_key("nothing"), None);
}
