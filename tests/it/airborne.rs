//! The flight itself: readings against the plan, what is asked back, projections, alarms.

use liftmargin_core::airborne::{
    AirborneMarks, AlarmKind, Alarms, CautiousMarks, CourseDetails, CoursePoint, MeterReading, PlannedCourse,
    Projection, ReadingDoubt, Tracker, TrackingSpreads, WayHome,
};
use liftmargin_core::flight::{Flight, FlightSettings, fly, fly_brief};
use liftmargin_core::profile::{Leg, LegDemand};
use liftmargin_core::supply::Supply;
use liftmargin_core::units::{ElectricCharge, ElectricPotential, Ratio, Time};
use proptest::prelude::*;
use uom::si::electric_charge::milliampere_hour;
use uom::si::electric_potential::{millivolt, volt};
use uom::si::ratio::ratio;
use uom::si::time::second;

use crate::rig::{close_by, pack, reserve, supply, two_strings};
use crate::table::assert_close;

const HOVER_W: f64 = 4200.0;
/// The warm-up of `close_by`.
const WARM_UP_S: f64 = 20.0;

fn mah(value: f64) -> ElectricCharge {
    ElectricCharge::new::<milliampere_hour>(value)
}

fn s(value: f64) -> Time {
    Time::new::<second>(value)
}

fn share(value: f64) -> Ratio {
    Ratio::new::<ratio>(value)
}

fn scaled(demand: &LegDemand, power: f64) -> LegDemand {
    let leg = |leg: &Leg| Leg { power: leg.power * power, ..*leg };
    LegDemand {
        outbound: demand.outbound.iter().map(leg).collect(),
        on_set: demand.on_set * power,
        homebound: demand.homebound.iter().map(leg).collect(),
    }
}

fn flown(supply: &Supply, demand: &LegDemand) -> Flight {
    fly(supply, demand, &reserve(0.2)).expect("in range").expect("flies")
}

fn course(supply: &Supply, demand: &LegDemand) -> PlannedCourse {
    let harder = fly_brief(supply, &scaled(demand, 1.15), &reserve(0.2), &FlightSettings::default());
    PlannedCourse::of(
        &flown(supply, demand),
        &CourseDetails {
            meter: supply.meter,
            warm_up: s(WARM_UP_S),
            cautious: None,
            harder: harder.unwrap().ok().map(|harder| (share(1.15), harder)),
        },
    )
}

fn spreads(rate: f64) -> TrackingSpreads {
    TrackingSpreads::usual(share(rate), share(0.03), mah(15.0), ElectricPotential::new::<millivolt>(400.0))
}

fn reading(time_s: f64, used_mah: f64) -> MeterReading {
    MeterReading { time: s(time_s), used: Some(mah(used_mah)), voltage: None, is_confirmed: false }
}

fn with_voltage(time_s: f64, used_mah: f64, volts: f64) -> MeterReading {
    MeterReading { voltage: Some(ElectricPotential::new::<volt>(volts)), ..reading(time_s, used_mah) }
}

/// What a bus meter with steps of 10 mAh shows, and the bus voltage, so many seconds after lift-off.
fn shown(truth: &Flight, time_s: f64) -> (f64, f64) {
    let at = |sample: &liftmargin_core::flight::Sample| sample.time.value - WARM_UP_S;
    let used = |sample: &liftmargin_core::flight::Sample| {
        sample.strings.iter().map(|string| string.used.get::<milliampere_hour>()).sum::<f64>()
    };
    let after = truth.samples.iter().position(|sample| at(sample) > time_s).expect("within the flight");
    let (low, high) = (&truth.samples[after - 1], &truth.samples[after]);
    let into = (time_s - at(low)) / (at(high) - at(low));
    let used = used(low) + into * (used(high) - used(low));
    (10.0 * (used / 10.0).round(), low.bus_voltage.value + into * (high.bus_voltage - low.bus_voltage).value)
}

/// Readings every two minutes of a flight at so many times the planned power, and the truth about being down.
fn followed(supply: &Supply, power: f64, rate_spread: f64) -> (Vec<Projection>, f64, usize) {
    let plan = close_by(HOVER_W);
    let truth = flown(supply, &scaled(&plan, power));
    let course = course(supply, &plan);
    let mut tracker = Tracker::new(&course, spreads(rate_spread)).unwrap();
    let (mut projections, mut weak) = (Vec::new(), 0);
    let turn_back_s = truth.turn_back_at.value - WARM_UP_S;
    for count in 1.. {
        let time_s = 120.0 * f64::from(count);
        if time_s > turn_back_s {
            break;
        }
        let (used_mah, volts) = shown(&truth, time_s);
        let taken = tracker.take(&with_voltage(time_s, used_mah, volts)).expect("taken in");
        weak += usize::from(taken.is_weak);
        projections.push(tracker.project(s(time_s), None).unwrap());
    }
    (projections, truth.land_by_at.value - WARM_UP_S, weak)
}

/// Against flights of the packs' own model at other powers: consumption 15 % above plan, readings every two minutes, the
/// land-by minute within 20 s of the truth after the third.
#[test]
fn regress_fifteen_percent_more_is_seen_within_20_s_after_three_readings() {
    for rate_spread in [0.035, 0.06, 0.12, 0.3] {
        let (projections, truth_s, _) = followed(&two_strings(), 1.15, rate_spread);
        let third = &projections[2];
        let miss_s = third.middle.land_by_at.value - truth_s;
        assert!(miss_s.abs() < 20.0, "spread {rate_spread}: {miss_s:+.1} s of {truth_s:.0} s");
        assert!(third.cautious.land_by_at <= third.middle.land_by_at);
        assert!(third.over_plan.get::<milliampere_hour>() > 500.0);
    }
}

#[test]
fn regress_other_powers_and_packs_ruled_by_voltage() {
    // Tired packs: the voltage floor ends the flight, and the more so the more is drawn.
    let tired = supply(&[pack(12.0, 3.6), pack(12.0, 3.6)]);
    for (packs, power, within_s) in [
        (two_strings(), 0.9, 20.0),
        (two_strings(), 1.0, 5.0),
        (two_strings(), 1.08, 15.0),
        (two_strings(), 1.3, 30.0),
        (tired, 1.1, 30.0),
    ] {
        let (projections, truth_s, weak) = followed(&packs, power, 0.06);
        let last = projections.last().expect("readings");
        let miss_s = last.middle.land_by_at.value - truth_s;
        assert!(miss_s.abs() < within_s, "power {power}: {miss_s:+.1} s of {truth_s:.0} s");
        assert_eq!(weak, 0, "power {power}: the packs are as planned");
    }
}

/// Packs that give less and sag more than planned: an alarm of its own.
#[test]
fn regress_packs_weaker_than_planned_are_an_alarm() {
    let plan = close_by(HOVER_W);
    let course = course(&two_strings(), &plan);
    let truth = flown(&supply(&[pack(10.0, 4.0), pack(10.0, 4.0)]), &plan);
    let mut tracker = Tracker::new(&course, spreads(0.04)).unwrap();
    let (used_mah, volts) = shown(&truth, 180.0);
    let taken = tracker.take(&with_voltage(180.0, used_mah, volts)).unwrap();
    assert!(taken.is_weak, "{:?} of {:?}", taken.voltage_miss, taken.voltage_spread);
    let projection = tracker.project(s(180.0), None).unwrap();
    assert!(projection.capacity.value < 1.0 && projection.cautious.land_by < course.land_by);
}

fn straight(rate_mah_min: f64) -> PlannedCourse {
    let point = |minute: f64| CoursePoint {
        time: s(60.0 * minute),
        used: mah(rate_mah_min * minute),
        voltage: ElectricPotential::new::<volt>(50.0 - 0.5 * minute),
    };
    PlannedCourse {
        points: (0..=10).map(|minute| point(f64::from(minute))).collect(),
        way_home: WayHome { used: mah(2.0 * rate_mah_min), time: s(120.0) },
        land_by: mah(12.0 * rate_mah_min),
        cautious: CautiousMarks { land_by: mah(11.5 * rate_mah_min), turn_back: mah(11.5 * rate_mah_min) },
        land_by_falls: mah(0.0),
        capacity: mah(15.0 * rate_mah_min),
        sag_on_set: ElectricPotential::new::<volt>(2.0),
    }
}

/// By hand, the textbook's normal prior and normal readings of a line through the origin: y_i = f p_i, precision
/// 1/σ² + Σ p_i²/s², mean (1/σ² + Σ p_i y_i/s²) over it. p = 2000, 4000 mAh; y = 2300, 4500; σ = 0.1, s = 40 mAh:
/// precision 100 + 2.5e3 + 1e4 = 12,600; mean (100 + 2,875 + 11,250)/12,600 = 1.128968.
#[test]
fn val_conjugate_rate_by_hand() {
    let course = straight(1000.0);
    let exact =
        TrackingSpreads { drift_a_minute: share(0.0), stamp: s(0.0), meter: mah(40.0), ..spreads(0.1) };
    let mut tracker = Tracker::new(&course, exact).unwrap();
    tracker.take(&reading(120.0, 2300.0)).unwrap();
    tracker.take(&reading(240.0, 4500.0)).unwrap();
    let at = tracker.project(s(240.0), None).unwrap();
    assert_close(at.rate.value, 1.128_968, 1e-6, "rate");
    assert_close(at.rate_spread.value, 1.0 / 12_600.0_f64.sqrt(), 1e-6, "its deviation");
    assert_close(at.used.get::<milliampere_hour>(), 4000.0 * 1.128_968, 1e-6, "used");
    // Turn back at 12,000 − 1.128968 · 2,000 mAh: at (12,000 / 1.128968 − 2,000) / 1000 minutes; down two later.
    let turn_back_min = 12.0 / 1.128_968 - 2.0;
    assert_close(at.middle.turn_back_at.value / 60.0, turn_back_min, 1e-3, "turn back");
    assert_close(at.middle.land_by_at.value / 60.0, turn_back_min + 2.0, 1e-3, "land by");
    assert_close(at.middle.turn_back.get::<milliampere_hour>(), 12_000.0 - 2.0 * 1_128.968, 1e-6, "mark");
}

#[test]
fn regress_what_cannot_be_is_asked_back_and_changes_nothing() {
    let course = straight(1000.0);
    let mut tracker = Tracker::new(&course, spreads(0.1)).unwrap();
    tracker.take(&reading(120.0, 2100.0)).unwrap();
    let before = tracker.project(s(300.0), None).unwrap();
    let refused = [
        (reading(180.0, 2090.0), "lower-than-last"),
        (reading(180.0, 15_001.0), "above-capacity"),
        (reading(180.0, 14_000.0), "far-above-expected"),
        (reading(180.0, 5_000.0), "unlikely"),
        (reading(240.0, 2_300.0), "unlikely"),
        (reading(100.0, 2_200.0), "earlier-than-last"),
        (reading(180.0, f64::NAN), "no-number"),
        (reading(f64::NAN, 3_000.0), "no-number"),
        (reading(180.0, -1.0), "no-number"),
        (with_voltage(180.0, 3_100.0, 4.98), "voltage-beyond-packs"),
        (with_voltage(180.0, 3_100.0, 498.0), "voltage-beyond-packs"),
        (with_voltage(180.0, 3_100.0, f64::INFINITY), "no-number"),
    ];
    for (wrong, key) in refused {
        let doubt = tracker.take(&wrong).expect_err(key);
        assert_eq!(doubt.key(), key);
        assert_eq!(tracker.project(s(300.0), None).unwrap(), before, "{key} left something behind");
    }
    assert_eq!(tracker.take(&reading(180.0, 2090.0)), Err(ReadingDoubt::LowerThanLast { last: mah(2100.0) }));
    // A second reading soon after the first is no multiple of nothing.
    tracker.take(&reading(123.0, 2100.0)).expect("the same figure again");
}

#[test]
fn regress_a_confirmed_lower_reading_is_a_reset_meter() {
    let course = straight(1000.0);
    let mut tracker = Tracker::new(&course, spreads(0.1)).unwrap();
    tracker.take(&reading(240.0, 4000.0)).unwrap();
    let before = tracker.project(s(300.0), None).unwrap();
    let taken = tracker.take(&MeterReading { is_confirmed: true, ..reading(300.0, 200.0) }).unwrap();
    assert!(taken.was_reset);
    let after = tracker.project(s(300.0), None).unwrap();
    assert_close(after.used.get::<milliampere_hour>(), 200.0, 1e-9, "as it shows now");
    let fell = before.middle.land_by - after.middle.land_by;
    assert_close(fell.get::<milliampere_hour>(), 4800.0, 1e-3, "marks fall with it");
    assert_close(after.middle.land_by_at.value, before.middle.land_by_at.value, 1e-3, "minutes stay");
    tracker.take(&reading(360.0, 1200.0)).expect("counts on from there");
}

#[test]
fn regress_another_way_home_moves_turning_back() {
    let course = straight(1000.0);
    let tracker = Tracker::new(&course, spreads(0.05)).unwrap();
    let now = s(60.0);
    let far = WayHome { used: mah(4000.0), time: s(240.0) };
    let (planned, further) = (tracker.project(now, None).unwrap(), tracker.project(now, Some(far)).unwrap());
    assert_close(
        (planned.middle.turn_back - further.middle.turn_back).get::<milliampere_hour>(),
        2000.0,
        1e-9,
        "mark",
    );
    assert_close((planned.middle.turn_back_at - further.middle.turn_back_at).value, 120.0, 1e-2, "moment");
    // Each moment is found to a tenth of a second.
    assert!(
        (planned.middle.land_by_at - further.middle.land_by_at).value.abs() < 0.2,
        "down at the same time"
    );
}

fn marks(turn_back_s: f64, land_by_s: f64) -> AirborneMarks {
    AirborneMarks {
        turn_back: mah(1.0),
        land_by: mah(2.0),
        turn_back_at: s(turn_back_s),
        land_by_at: s(land_by_s),
    }
}

#[test]
fn regress_alarms_by_stamps_alone() {
    use AlarmKind::{BeforeLandBy, BeforeTurnBack, LandBy, TurnBack, WeakPacks};
    type Row = (f64, &'static [(AlarmKind, f64)], &'static [AlarmKind]);
    let alarms = Alarms::new(&marks(600.0, 720.0), Some(s(300.0)));
    let table: &[Row] = &[
        (299.9, &[], &[]),
        (300.0, &[], &[WeakPacks]),
        (301.0, &[(WeakPacks, 300.5)], &[]),
        (540.0, &[(WeakPacks, 300.5)], &[BeforeTurnBack]),
        (541.0, &[(WeakPacks, 300.5), (BeforeTurnBack, 541.0)], &[]),
        (600.0, &[(WeakPacks, 300.5), (BeforeTurnBack, 541.0)], &[TurnBack]),
        // The page was gone for a while: all that fell due, the most urgent first.
        (725.0, &[(WeakPacks, 300.5)], &[LandBy, BeforeLandBy, TurnBack, BeforeTurnBack]),
    ];
    for (now_s, touched, sounding) in table {
        let touched: Vec<_> = touched.iter().map(|(kind, at_s)| (*kind, s(*at_s))).collect();
        assert_eq!(alarms.sounding(s(*now_s), &touched), *sounding, "at {now_s}");
    }
    assert_eq!(alarms.next(s(610.0)).map(|alarm| alarm.kind), Some(BeforeLandBy));
    assert_eq!(alarms.next(s(720.0)), None);
    // Touched too early: its moment moved on, and it sounds again.
    let later = Alarms::new(&marks(660.0, 780.0), None);
    assert_eq!(later.sounding(s(605.0), &[(BeforeTurnBack, s(541.0))]), [BeforeTurnBack]);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    /// Whatever is read, every figure is a number, the cautious ones are never bolder, and never above the card's mark.
    #[test]
    fn prop_projections_are_cautious_numbers(
        readings in proptest::collection::vec((0.0..1500.0f64, 0.0..20_000.0f64, 20.0..70.0f64, any::<bool>()), 0..8),
        rate in 0.001..0.5f64, now_s in 0.0..3000.0f64, home_mah in 0.0..6000.0f64,
    ) {
        let course = straight(1000.0);
        let mut tracker = Tracker::new(&course, spreads(rate)).unwrap();
        let mut resets = false;
        for (time_s, used_mah, volts, is_confirmed) in readings {
            let one = MeterReading { is_confirmed, ..with_voltage(time_s, used_mah, volts) };
            resets |= tracker.take(&one).is_ok_and(|taken| taken.was_reset);
        }
        let way = WayHome { used: mah(home_mah), time: s(100.0) };
        let at = tracker.project(s(now_s), Some(way)).unwrap();
        let figures = [at.used.value, at.used_spread.value, at.rate.value, at.rate_spread.value, at.over_plan.value,
            at.capacity.value, at.middle.turn_back_at.value, at.middle.land_by_at.value, at.cautious.turn_back_at.value,
            at.cautious.land_by_at.value, at.middle.land_by.value, at.cautious.turn_back.value];
        prop_assert!(figures.iter().all(|figure| figure.is_finite()), "{figures:?}");
        prop_assert!(at.cautious.land_by <= at.middle.land_by);
        prop_assert!(at.cautious.turn_back <= at.middle.turn_back);
        prop_assert!(at.cautious.turn_back_at.value <= at.middle.turn_back_at.value + 0.2);
        prop_assert!(resets || at.cautious.land_by <= course.cautious.land_by);
    }

    /// More used than planned never gives more time.
    #[test]
    fn prop_more_used_is_never_more_time(used in 1500.0..2600.0f64, more in 0.0..300.0f64) {
        let course = straight(1000.0);
        let land_by = |used_mah: f64| {
            let mut tracker = Tracker::new(&course, spreads(0.1)).unwrap();
            tracker.take(&reading(120.0, used_mah)).unwrap();
            tracker.project(s(120.0), None).unwrap().cautious.land_by_at.value
        };
        prop_assert!(land_by(used + more) <= land_by(used) + 0.1);
    }

    #[test]
    fn prop_no_alarm_is_lost(
        turn_back_s in 0.0..1000.0f64, home_s in 1.0..400.0f64, now_s in 0.0..2000.0f64, touched_s in 0.0..2000.0f64,
    ) {
        let alarms = Alarms::new(&marks(turn_back_s, turn_back_s + home_s), None);
        for alarm in alarms.all() {
            let sounds = alarms.sounding(s(now_s), &[(alarm.kind, s(touched_s))]).contains(&alarm.kind);
            prop_assert_eq!(sounds, now_s >= alarm.due.value && touched_s < alarm.due.value);
        }
    }
}

#[test]
fn regress_a_plan_out_of_range_is_refused() {
    let mut course = straight(1000.0);
    course.points.truncate(1);
    assert_eq!(Tracker::new(&course, spreads(0.1)).expect_err("one point").field(), "course_points");
    let mut course = straight(1000.0);
    course.points[3].used = mah(1.0);
    assert_eq!(Tracker::new(&course, spreads(0.1)).expect_err("falls").field(), "course_charge");
    let course = straight(1000.0);
    assert_eq!(Tracker::new(&course, spreads(0.9)).expect_err("spread").field(), "tracking_spread");
    let tracker = Tracker::new(&course, spreads(0.1)).unwrap();
    let now = tracker.project(s(f64::NAN), None).expect_err("no time");
    assert_eq!(now.field(), "course_time_step");
}
