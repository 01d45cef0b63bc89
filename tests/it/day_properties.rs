//! What holds on every day, over thousands of generated ones.

use liftmargin_core::day::{DayEvent, DayEventKind, DayPlan, DaySchedule, SetKind, schedule};
use liftmargin_core::units::Power;
use proptest::prelude::*;
use uom::si::power::watt;

use crate::day_rig::{flight, seconds, whole};

/// Kind, wait before it may go, duration, charge: full for so long at so much, then steps down.
type Wanted = (usize, i64, i64, (i64, u32, Vec<i64>));

fn wanted() -> impl Strategy<Value = Wanted> {
    let pause = prop_oneof![3 => Just(0), 1 => 0..7200_i64];
    (0..3_usize, pause, 60..1500_i64, (60..9000_i64, 100..1500_u32, prop::collection::vec(60..900_i64, 0..4)))
}

fn plan() -> impl Strategy<Value = DayPlan> {
    let pauses = (0..1200_i64, 0..2400_i64, 0..1200_i64);
    let kinds = prop::collection::vec((0..6_u32, 0..40_000_i64), 1..4);
    let limit = prop_oneof![1 => Just(None), 2 => (1500..6000_u32).prop_map(Some)];
    let flights = prop::collection::vec(wanted(), 0..40);
    (pauses, kinds, 0..6_u32, limit, 4..13_i64, flights).prop_map(
        |((turn_round_s, cool_down_s, warm_up_s), kinds, chargers, limit_w, hours, wanted)| {
            let mut earliest_s = 6 * 3600;
            let count = kinds.len();
            let flights = wanted.into_iter().map(|(kind, pause_s, duration_s, (full_s, peak_w, tail))| {
                earliest_s += pause_s;
                let mut charge = vec![(full_s, f64::from(peak_w))];
                for (step, duration_s) in tail.into_iter().enumerate() {
                    charge.push((duration_s, f64::from(peak_w) * (0.75 - 0.25 * step as f64)));
                }
                flight(kind % count, earliest_s, duration_s, &charge)
            });
            let flights = flights.collect();
            let kind = |(count, from_s): (u32, i64)| SetKind {
                count,
                available_from: seconds(if from_s > 30_000 { from_s } else { 0 }),
            };
            DayPlan {
                start: seconds(6 * 3600),
                wrap: seconds((6 + hours) * 3600),
                turn_round: seconds(turn_round_s),
                cool_down: seconds(cool_down_s),
                warm_up: seconds(warm_up_s),
                sets: kinds.into_iter().map(kind).collect(),
                chargers,
                supply_limit: limit_w.map(|watts| Power::new::<watt>(f64::from(watts))),
                flights,
            }
        },
    )
}

fn of(day: &DaySchedule, kind: DayEventKind) -> impl Iterator<Item = &DayEvent> {
    day.events.iter().filter(move |event| event.kind == kind)
}

/// When each flight starts.
fn starts(day: &DaySchedule) -> Vec<i64> {
    of(day, DayEventKind::Flight).map(|event| whole(event.start)).collect()
}

/// Every flight of the lesser day is flown on the other too, none of them later.
fn never_later(less: &DaySchedule, more: &DaySchedule) {
    assert!(more.flights_done >= less.flights_done, "{} flights, {}", less.flights_done, more.flights_done);
    for (index, (before, after)) in starts(less).iter().zip(starts(more)).enumerate() {
        assert!(after <= *before, "flight {index}: {before}, then {after}");
    }
    assert!(more.flights_without_stall >= less.flights_without_stall);
}

/// What a set does, one after another, never two at once.
fn one_place_at_a_time(plan: &DayPlan, day: &DaySchedule) {
    for kind in 0..plan.sets.len() {
        for set in 0..plan.sets[kind].count as usize {
            let own = day.events.iter().filter(|event| event.kind != DayEventKind::WaitForSet);
            let mut own: Vec<_> = own.filter(|event| (event.set_kind, event.set) == (kind, set)).collect();
            own.sort_by_key(|event| (whole(event.start), whole(event.end)));
            for pair in own.windows(2) {
                assert!(whole(pair[0].end) <= whole(pair[1].start), "{:?} and {:?}", pair[0], pair[1]);
            }
        }
    }
    for event in &day.events {
        assert!(event.set < plan.sets[event.set_kind].count as usize);
        assert!(whole(event.start) >= whole(plan.start) && event.start < event.end);
    }
}

/// Between two flights of a set it cooled and was charged for as long as it takes; chargers have one set each.
fn charged_before_flown_and_cooled_before_charged(plan: &DayPlan, day: &DaySchedule) {
    for flown in of(day, DayEventKind::Flight) {
        let earlier = of(day, DayEventKind::Flight).filter(|other| {
            (other.set_kind, other.set) == (flown.set_kind, flown.set) && other.start < flown.start
        });
        let Some(before) = earlier.max_by_key(|other| whole(other.start)) else {
            let there = whole(plan.sets[flown.set_kind].available_from);
            assert!(whole(flown.start) >= there + whole(plan.warm_up));
            continue;
        };
        let charge = of(day, DayEventKind::Charge).find(|charge| charge.flight == before.flight);
        let charge = charge.expect("charged before flown again");
        assert!(whole(charge.start) >= whole(before.end) + whole(plan.cool_down));
        let takes: i64 = plan.flights[before.flight].charge.iter().map(|step| whole(step.duration)).sum();
        assert_eq!(whole(charge.end) - whole(charge.start), takes);
        assert!(whole(flown.start) >= whole(charge.end) + whole(plan.warm_up));
    }
    let charges: Vec<_> = of(day, DayEventKind::Charge).collect();
    for charge in &charges {
        assert!(charge.charger.expect("a charger") < plan.chargers as usize);
        let same = charges.iter().filter(|other| other.charger == charge.charger);
        let at_once = same.filter(|other| other.start < charge.end && charge.start < other.end);
        assert_eq!(at_once.count(), 1, "{charge:?}");
    }
}

/// Watts of all charges at their every change, counted anew from the events.
fn the_supply_is_never_exceeded(plan: &DayPlan, day: &DaySchedule) {
    let drawn = |at: i64| -> f64 {
        of(day, DayEventKind::Charge)
            .map(|charge| {
                let mut end = whole(charge.start);
                let steps = plan.flights[charge.flight].charge.iter();
                let on = steps.map(|step| {
                    end += whole(step.duration);
                    (end, step.power.get::<watt>())
                });
                let mut on = on.skip_while(|(end, _)| *end <= at);
                if whole(charge.start) <= at { on.next().map_or(0.0, |(_, watts)| watts) } else { 0.0 }
            })
            .sum()
    };
    let limit = plan.supply_limit.map_or(f64::INFINITY, |limit| limit.get::<watt>());
    let mut most = 0.0_f64;
    for step in &day.supply {
        let watts = drawn(whole(step.from));
        assert!(watts <= limit * (1.0 + 1e-6), "{watts} W of {limit} W");
        assert!((watts - step.power.get::<watt>()).abs() < 1e-3);
        most = most.max(watts);
    }
    assert!((most - day.greatest_power.get::<watt>()).abs() < 1e-3);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 3000, ..ProptestConfig::default() })]

    #[test]
    fn prop_a_day_keeps_its_rules(plan in plan()) {
        let day = schedule(&plan).expect("in range");
        prop_assert_eq!(&day, &schedule(&plan).expect("in range"));
        one_place_at_a_time(&plan, &day);
        charged_before_flown_and_cooled_before_charged(&plan, &day);
        the_supply_is_never_exceeded(&plan, &day);
        let flown: Vec<_> = of(&day, DayEventKind::Flight).collect();
        prop_assert_eq!(flown.len(), day.flights_done);
        for (index, event) in flown.iter().enumerate() {
            prop_assert_eq!(event.flight, index);
            prop_assert!(event.start >= plan.flights[index].earliest && event.end <= plan.wrap);
        }
        for pair in flown.windows(2) {
            prop_assert!(whole(pair[1].start) >= whole(pair[0].end) + whole(plan.turn_round));
        }
    }

    #[test]
    fn prop_more_of_anything_is_never_later(plan in plan(), kind in 0..3_usize) {
        let day = schedule(&plan).expect("in range");
        let mut more = plan.clone();
        more.chargers += 1;
        never_later(&day, &schedule(&more).expect("in range"));
        let mut more = plan.clone();
        let kind = kind % more.sets.len();
        more.sets[kind].count += 1;
        never_later(&day, &schedule(&more).expect("in range"));
        let mut more = plan.clone();
        more.supply_limit = plan.supply_limit.map(|limit| limit * 1.3);
        never_later(&day, &schedule(&more).expect("in range"));
        let mut sooner = plan.clone();
        sooner.cool_down = plan.cool_down / 2.0;
        never_later(&day, &schedule(&sooner).expect("in range"));
    }

    #[test]
    fn prop_the_fewest_are_enough_and_one_less_is_not(plan in plan()) {
        let day = schedule(&plan).expect("in range");
        let mut enough = plan.clone();
        for (kind, count) in enough.sets.iter_mut().zip(&day.fewest_sets) {
            kind.count = *count;
        }
        let smooth = schedule(&enough).expect("in range");
        prop_assert_eq!(smooth.first_stall, None);
        prop_assert_eq!(smooth.flights_done, day.flights_without_stall);
        for kind in 0..enough.sets.len() {
            if enough.sets[kind].count > 0 {
                let mut fewer = enough.clone();
                fewer.sets[kind].count -= 1;
                prop_assert!(schedule(&fewer).expect("in range").first_stall.is_some());
            }
        }
        if let Some(chargers) = day.fewest_chargers {
            let with = |chargers: u32| schedule(&DayPlan { chargers, ..plan.clone() }).expect("in range");
            prop_assert_eq!(with(chargers).first_stall, None);
            if chargers > 0 {
                prop_assert!(with(chargers - 1).first_stall.is_some());
            }
        } else {
            let many = DayPlan { chargers: 200, ..plan.clone() };
            prop_assert!(schedule(&many).expect("in range").first_stall.is_some());
        }
    }

    #[test]
    fn prop_what_ends_a_stall_ends_it(plan in plan()) {
        let day = schedule(&plan).expect("in range");
        let Some(stall) = day.first_stall else { return Ok(()) };
        let is_ended = |plan: &DayPlan| {
            schedule(plan).expect("in range").first_stall.is_none_or(|later| later.flight > stall.flight)
        };
        if let Some(more) = stall.more_chargers {
            let with = |more: u32| is_ended(&DayPlan { chargers: plan.chargers + more, ..plan.clone() });
            let (ended, sooner) = (with(more), with(more - 1));
            prop_assert!(ended && !sooner);
        }
        let mut sets = plan.clone();
        let kind = plan.flights[stall.flight].set;
        sets.sets[kind].count += stall.more_sets.expect("sets always end it");
        prop_assert!(is_ended(&sets));
        prop_assert_eq!(stall.more_power, is_ended(&DayPlan { supply_limit: None, ..plan.clone() }));
    }
}
