//! Days: worked by hand, and against an independent discrete-event library.

use liftmargin_core::day::{
    Bottleneck, DayEvent, DayEventKind, DayFault, DayFlight, DayPlan, SetKind, schedule,
};
use liftmargin_core::input_error::InputError;
use liftmargin_core::units::Power;
use uom::si::energy::watt_hour;
use uom::si::power::watt;

use crate::day_rig::{flight, plain, seconds, whole};
use crate::table::Table;

const HOUR: i64 = 3600;
const MINUTE: i64 = 60;

/// `08:10`.
fn clock(text: &str) -> i64 {
    let (hours, minutes) = text.split_once(':').expect("a time");
    hours.parse::<i64>().expect("hours") * HOUR + minutes.parse::<i64>().expect("minutes") * MINUTE
}

/// Flights alike, ten minutes long, all from eight on, each followed by a charge of an hour at 1 kW.
fn alike(count: usize) -> Vec<DayFlight> {
    vec![flight(0, 8 * HOUR, 10 * MINUTE, &[(HOUR, 1000.0)]); count]
}

/// When each flight starts.
fn starts(plan: &DayPlan) -> Vec<i64> {
    let day = schedule(plan).expect("a day");
    let flights = day.events.iter().filter(|event| event.kind == DayEventKind::Flight);
    flights.map(|event| whole(event.start)).collect()
}

#[track_caller]
fn check(plan: &DayPlan, want: &[&str]) {
    let want: Vec<i64> = want.iter().map(|text| clock(text)).collect();
    assert_eq!(starts(plan), want);
}

#[test]
fn val_by_hand_one_set_flies_when_it_is_back() {
    // 08:00 to 08:10, cool 08:30, charged 09:30, and again every hour and a half.
    check(&plain(1, 1, alike(3)), &["08:00", "09:30", "11:00"]);
}

#[test]
fn val_by_hand_three_sets_one_charger() {
    // 08:00, 08:20, 08:40 fly the three sets. Charges 08:30 to 09:30, to 10:30, to 11:30, one after another.
    let plan = plain(3, 1, alike(6));
    check(&plan, &["08:00", "08:20", "08:40", "09:30", "10:30", "11:30"]);
    let day = schedule(&plan).expect("a day");
    let stall = day.first_stall.expect("it waits");
    // The fourth could go at 09:00. Its set went to the charger at once and came back by itself: no charger helps.
    assert_eq!((stall.flight, whole(stall.from)), (3, 9 * HOUR));
    assert_eq!(stall.bottleneck, Bottleneck::Sets);
    assert_eq!((stall.more_chargers, stall.more_sets), (None, Some(1)));
    assert!(!stall.more_power);
    // With a set at hand the flights are 20 min apart; the charges end 09:30, 10:30, …: at 09:40, the sixth start, one set is
    // back, five are out.
    assert_eq!(day.fewest_sets, [5]);
    assert_eq!(day.flights_without_stall, 6);
    assert!((day.energy.get::<watt_hour>() - 6000.0).abs() < 1e-6);
    assert_eq!(day.all_charged.map(whole), Some(14 * HOUR + 30 * MINUTE));
}

#[test]
fn val_by_hand_a_charger_ends_the_wait() {
    // A flight every 40 min. One charger: 08:30–09:30, then one after another to 10:30, 11:30, 12:30. The first set has flown
    // again 10:40–10:50, is cool at 11:10, waits to 12:30 and is charged at 13:30; the ninth flight could go at 13:20.
    let mut plan = plain(4, 1, alike(10));
    plan.turn_round = seconds(30 * MINUTE);
    check(&plan, &ONE_AT_A_TIME);
    let day = schedule(&plan).expect("a day");
    let stall = day.first_stall.expect("it waits");
    assert_eq!((stall.flight, whole(stall.from)), (8, clock("13:20")));
    assert_eq!(stall.until.map(whole), Some(clock("13:30")));
    assert_eq!((stall.bottleneck, stall.more_chargers), (Bottleneck::Chargers, Some(1)));
    plan.chargers = 2;
    assert_eq!(schedule(&plan).expect("a day").first_stall, None);
    assert_eq!(day.fewest_chargers, Some(2));
}

/// Four sets, flights 40 min apart, one set charged at a time for an hour.
const ONE_AT_A_TIME: [&str; 10] =
    ["08:00", "08:40", "09:20", "10:00", "10:40", "11:20", "12:00", "12:40", "13:30", "14:30"];

#[test]
fn val_by_hand_a_weak_supply_is_the_bottleneck() {
    // As above with two chargers, but power for one only: as one charger.
    let mut plan = plain(4, 2, alike(10));
    plan.turn_round = seconds(30 * MINUTE);
    plan.supply_limit = Some(Power::new::<watt>(1999.0));
    check(&plan, &ONE_AT_A_TIME);
    let stall = schedule(&plan).expect("a day").first_stall.expect("it waits");
    assert_eq!((stall.bottleneck, stall.more_chargers, stall.more_power), (Bottleneck::Supply, None, true));
    plan.supply_limit = Some(Power::new::<watt>(2000.0));
    assert_eq!(schedule(&plan).expect("a day").first_stall, None);
}

#[test]
fn val_by_hand_a_taper_lets_the_next_one_in() {
    // 1 kW for 40 min, then 400 W for 20 min, out of 1.4 kW: the next begins 40 min after the one before it.
    let charge = [(40 * MINUTE, 1000.0), (20 * MINUTE, 400.0)];
    let mut plan = plain(3, 3, vec![flight(0, 8 * HOUR, 10 * MINUTE, &charge); 5]);
    plan.supply_limit = Some(Power::new::<watt>(1400.0));
    // Flights 08:00, 08:20, 08:40; charges 08:30–09:30, 09:10–10:10, 09:50–10:50.
    check(&plan, &["08:00", "08:20", "08:40", "09:30", "10:10"]);
    let day = schedule(&plan).expect("a day");
    assert!((day.greatest_power.get::<watt>() - 1400.0).abs() < 1e-9);
}

#[test]
fn val_by_hand_warm_up_late_sets_and_wrap() {
    let mut plan = plain(1, 1, alike(6));
    plan.warm_up = seconds(15 * MINUTE);
    plan.sets[0].available_from = seconds(clock("08:30"));
    plan.wrap = seconds(clock("12:05"));
    // 08:45 to 08:55, cool 09:15, charged 10:15, warm 10:30; then 12:15 would be past wrap.
    check(&plan, &["08:45", "10:30"]);
    let day = schedule(&plan).expect("a day");
    assert_eq!(day.flights_done, 2);
    let stall = day.first_stall.expect("it waits");
    assert_eq!((stall.flight, whole(stall.from)), (1, clock("09:05")));
    // 20 minutes from start to start from 08:45 on: the last that lands by 12:05 is the tenth, six are wanted.
    assert_eq!(day.flights_without_stall, 6);
}

#[test]
fn val_by_hand_the_whole_course_of_one_set() {
    let mut plan = plain(1, 1, alike(2));
    plan.warm_up = seconds(5 * MINUTE);
    let day = schedule(&plan).expect("a day");
    let seen: Vec<_> = day
        .events
        .iter()
        .filter(|event| event.flight == 0)
        .map(|event: &DayEvent| (event.kind.key(), whole(event.start), whole(event.end), event.charger))
        .collect();
    assert_eq!(
        seen,
        [
            ("warm-up", clock("08:00"), clock("08:05"), None),
            ("flight", clock("08:05"), clock("08:15"), None),
            ("cool-down", clock("08:15"), clock("08:35"), None),
            ("charge", clock("08:35"), clock("09:35"), Some(0)),
        ]
    );
}

#[test]
fn without_a_charger_each_set_flies_once() {
    let day = schedule(&plain(3, 0, alike(5))).expect("a day");
    assert_eq!(day.flights_done, 3);
    let stall = day.first_stall.expect("it waits");
    assert_eq!((stall.flight, stall.until, stall.bottleneck), (3, None, Bottleneck::Chargers));
    assert_eq!(day.all_charged, None);
}

#[test]
fn a_day_that_does_not_add_up_is_refused() {
    let refusal = |change: fn(&mut DayPlan)| {
        let mut plan = plain(2, 1, alike(2));
        change(&mut plan);
        schedule(&plan).expect_err("refused")
    };
    assert_eq!(
        refusal(|plan| plan.flights[1].set = 3),
        InputError::Day(DayFault::NoSuchSet { flight: 1, set: 3, kinds: 1 })
    );
    assert_eq!(
        refusal(|plan| plan.supply_limit = Some(Power::new::<watt>(900.0))),
        InputError::Day(DayFault::ChargeAboveSupply { flight: 0, needed_w: 1000.0, supply_w: 900.0 })
    );
    assert_eq!(
        refusal(|plan| plan.flights[0] = flight(0, 0, 600, &[(60, 100.0), (60, 101.0)])),
        InputError::Day(DayFault::ChargeRises { flight: 0 })
    );
    assert_eq!(refusal(|plan| plan.wrap = seconds(-1)).field(), "time_of_day");
    assert_eq!(refusal(|plan| plan.chargers = 201).field(), "chargers");
    assert_eq!(refusal(|plan| plan.flights[0].duration = seconds(0)).field(), "flight_duration");
}

/// One day of tests/references/day.
fn referenced(number: f64) -> DayPlan {
    let of_day = |row: &crate::table::Row<'_>| (row.number("day") - number).abs() < 0.5;
    let days = Table::read("day/days.csv");
    let day = days.rows().find(&of_day).expect("the day");
    let time = |field: &str| seconds(day.number(field) as i64);
    let sets = Table::read("day/sets.csv");
    let kind = |row: crate::table::Row<'_>| SetKind {
        count: row.number("count") as u32,
        available_from: seconds(row.number("available_from_s") as i64),
    };
    let flights = Table::read("day/flights.csv");
    let planned = |row: crate::table::Row<'_>| {
        let steps: Vec<(i64, f64)> = row
            .text("steps_s_w")
            .split('/')
            .map(|step| {
                let (duration_s, power_w) = step.split_once(':').expect("a step");
                (duration_s.parse().expect("seconds"), power_w.parse().expect("watts"))
            })
            .collect();
        let (set, earliest_s) = (row.number("set") as usize, row.number("earliest_s") as i64);
        flight(set, earliest_s, row.number("duration_s") as i64, &steps)
    };
    let limit_w = day.number("supply_limit_w");
    DayPlan {
        start: time("start_s"),
        wrap: time("wrap_s"),
        turn_round: time("turn_round_s"),
        cool_down: time("cool_down_s"),
        warm_up: time("warm_up_s"),
        sets: sets.rows().filter(of_day).map(kind).collect(),
        chargers: day.number("chargers") as u32,
        supply_limit: (limit_w > 0.0).then(|| Power::new::<watt>(limit_w)),
        flights: flights.rows().filter(of_day).map(planned).collect(),
    }
}

// simpy 4.1.2, tests/references/day: flights and charges of thirty generated days, equal to the second.
#[test]
fn val_simpy_thirty_days() {
    let expected = Table::read("day/expected.csv");
    let (mut flown, mut stalled) = (0, 0);
    for number in 0..30 {
        let day = schedule(&referenced(f64::from(number))).expect("a day");
        let of = |kind: DayEventKind| -> Vec<(usize, i64, i64)> {
            let events = day.events.iter().filter(|event| event.kind == kind);
            events.map(|event| (event.flight, whole(event.start), whole(event.end))).collect()
        };
        let want = |start: &str, end: &str| -> Vec<(usize, i64, i64)> {
            let rows = expected.rows().filter(|row| (row.number("day") - f64::from(number)).abs() < 0.5);
            rows.map(|row| (row.number("flight") as usize, row.number(start) as i64, row.number(end) as i64))
                .collect()
        };
        assert_eq!(of(DayEventKind::Flight), want("start_s", "landed_s"), "day {number}");
        assert_eq!(of(DayEventKind::Charge), want("charge_start_s", "charge_end_s"), "day {number}");
        flown += day.flights_done;
        stalled += usize::from(day.first_stall.is_some());
    }
    assert!(flown > 250 && stalled > 10, "{flown} flights, {stalled} days with a wait");
}

#[test]
fn a_day_that_charges_nothing_draws_plus_zero() {
    let day = schedule(&plain(0, 1, alike(1))).expect("a day");
    assert!(day.energy.value == 0.0 && day.energy.value.is_sign_positive());
}
