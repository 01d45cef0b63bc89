//! What the Packs and Day screens show: the register in words, CSV out and in, a day out of the crew's file, its calendar.

use liftmargin_core::day::DayEventKind;
use liftmargin_core::limits::State;
use liftmargin_document::edit::{add, new_day};
use liftmargin_document::ground::cell_entry::{CellReading, next_label};
use liftmargin_document::ground::day_lanes::{Lanes, event_rows, flight_rows, plan_words, what_ifs};
use liftmargin_document::ground::register::rows;
use liftmargin_document::ground::setup_packs::{fly_these, join_for, match_for};
use liftmargin_document::ground::{calendar, clock, kinds, pack_csv, planned, set_count, setup_flight};
use liftmargin_document::model::{Bundle, DayPlan, Pack, PackRef, WantedFlight};
use liftmargin_document::open::{open_strict, save};
use liftmargin_document::present::Units;
use liftmargin_document::present::units::DecimalMark;
use liftmargin_document::resolve;

const DEMO: &str = include_str!("../../demo-data/mountain-road.json");
pub const TODAY: &str = "2026-11-26";
/// Three strings of two six-cell packs.
pub const SETUP: &str = "bend-follow";

/// The demo with seven single packs, each string of the setup of two of them.
pub fn with_packs() -> Bundle {
    let mut bundle = open_strict(DEMO).expect("the demo opens");
    for number in 1..=7 {
        let capacity_mah = 6_900.0 - 120.0 * f64::from(number % 4);
        let pack = Pack {
            name: format!("A{number}"),
            pack_type: "six-7".to_owned(),
            cycles: 40,
            measured_capacity_mah: Some(capacity_mah),
            cell_voltages_v: vec![4.18; 6],
            bought: "2025-11-26".to_owned(),
            ..Pack::default()
        };
        bundle = add(&bundle, pack, &format!("a{number}")).0;
    }
    let strings: Vec<Vec<String>> = [[1, 2], [3, 4], [5, 6]]
        .map(|string| string.map(|number: u32| format!("a{number}")).to_vec())
        .to_vec();
    fly_these(&mut bundle, SETUP, &strings);
    bundle
}

pub fn pack<'a>(bundle: &'a mut Bundle, id: &str) -> &'a mut Pack {
    bundle.packs.iter_mut().find(|pack| pack.id == id).expect("the pack")
}

#[test]
fn the_register_says_what_is_fit_and_why() {
    let mut bundle = with_packs();
    pack(&mut bundle, "a2").measured_capacity_mah = Some(5_400.0);
    pack(&mut bundle, "a3").cell_voltages_v = vec![4.18, 4.18, 4.06, 4.18, 4.18, 4.18];
    pack(&mut bundle, "a7").retired = true;
    pack(&mut bundle, "a5").bought = "2021-01-01".to_owned();
    let rows = rows(&bundle, TODAY);
    let of = |name: &str| rows.iter().find(|row| row.name == name).expect("the row");
    assert_eq!(
        (of("A1").state, of("A1").reasons.as_slice()),
        (Some(State::Fine), &["fit, 96 % of new".to_owned()][..])
    );
    assert_eq!((of("A2").state, of("A2").reasons[0].as_str()), (Some(State::Watch), "holds 77 % of new"));
    assert_eq!(of("A3").state, Some(State::No));
    assert!(
        of("A3").reasons.iter().any(|words| words == "cell 3 is -120 mV off its sisters"),
        "{:?}",
        of("A3")
    );
    assert_eq!((of("A7").state, of("A7").reasons[0].as_str()), (None, "retired"));
    assert_eq!(of("A5").reasons, ["5.9 years old"]);
    // 6 cells of 3.7 V, 7 Ah: 155.4 Wh. 4.18 V is 98.7 % full, storage 52 %.
    assert_eq!(of("A1").transport, "156 Wh: by air with the operator's approval, two spares at most");
    let storage = &of("A1").storage;
    assert!(storage.starts_with("take out 3") && storage.contains("full in "), "{storage}");
    // A pack with a cell below empty is not flown: the card says which.
    pack(&mut bundle, "a1").cell_voltages_v[5] = 2.4;
    let fault = resolve(&bundle, SETUP).expect_err("refused");
    assert!(fault.field().ends_with("cell_voltages_v[5]"), "{fault}");
}

#[test]
fn the_join_check_speaks_of_the_register() {
    let mut bundle = with_packs();
    let joined = join_for(&bundle, SETUP).expect("strings");
    assert_eq!(joined.verdict, State::Fine);
    assert!(joined.words.starts_with("They match."), "{}", joined.words);
    // A1 holds 6,780 mAh, A2 6,660, at 4.18 V 98.7 %: the weaker one rules, the other keeps 0.787 of the difference, 94 mAh.
    assert_eq!(joined.series[0], "String 1: A2 rules, 5200 mAh to the reserve; 50 mAh stay unused in A1.");
    pack(&mut bundle, "a5").cell_voltages_v = vec![3.85; 6];
    pack(&mut bundle, "a6").cell_voltages_v = vec![3.85; 6];
    let joined = join_for(&bundle, SETUP).expect("strings");
    assert_eq!(joined.verdict, State::No);
    assert!(joined.words.starts_with("Do not join: cells are 330 mV apart"), "{}", joined.words);
    assert!(joined.rows[2][2].ends_with("A in") && joined.rows[2][3].contains("mAh"), "{:?}", joined.rows);
}

#[test]
fn packs_are_matched_out_of_the_register_and_flown() {
    let mut bundle = with_packs();
    pack(&mut bundle, "a7").measured_capacity_mah = Some(3_000.0);
    let found = match_for(&bundle, SETUP, TODAY).expect("packs enough");
    assert!(!found.labels.concat().contains(&"A7".to_owned()), "not fit, so left out: {found:?}");
    assert!(found.gained.ends_with("the best of all arrangements"), "{}", found.gained);
    fly_these(&mut bundle, SETUP, &found.strings);
    let (ready, _) = resolve(&bundle, SETUP).expect("it resolves");
    let capacities: Vec<f64> = ready
        .supply
        .strings
        .iter()
        .flat_map(|string| &string.packs)
        .map(|pack| pack.health.measured_capacity.expect("measured").value)
        .collect();
    assert_eq!(capacities.len(), 6);
    // Each string's own packs reach the solver, with their own rest voltage.
    let rest = ready.supply.strings[0].packs[0].rest_voltage.expect("read").value;
    assert!((rest - 6.0 * 4.18).abs() < 1e-9);
    assert!(match_for(&with_packs_but(4), SETUP, TODAY).is_err());
}

/// The crew's own limits for a type count instead of the usual ones.
#[test]
fn limits_of_fitness_are_the_crews_own() {
    let mut bundle = with_packs();
    pack(&mut bundle, "a1").cell_resistances_mohm = vec![2.0, 2.0, 2.0, 2.0, 2.0, 2.8];
    let state = |bundle: &Bundle| rows(bundle, TODAY)[0].state;
    assert_eq!(state(&bundle), Some(State::Watch));
    let of = bundle.pack_types.iter_mut().find(|of| of.id == "six-7").expect("the type");
    of.fitness.resistance_most = Some(1.4);
    assert_eq!(state(&bundle), Some(State::No));
    let of = bundle.pack_types.iter_mut().find(|of| of.id == "six-7").expect("the type");
    of.fitness.resistance_watch = Some(1.5);
    of.fitness.resistance_most = None;
    of.fitness.capacity_watch_percent = Some(99.0);
    assert_eq!(rows(&bundle, TODAY)[0].reasons, ["holds 96 % of new"]);
    assert_eq!(open_strict(&save(&bundle).expect("finite")), Ok(bundle));
}

/// So few single packs.
fn with_packs_but(count: usize) -> Bundle {
    let mut bundle = with_packs();
    bundle.packs.truncate(count);
    let setup = bundle.setups.iter_mut().find(|setup| setup.id == SETUP).expect("the setup");
    for pack in setup.supply.strings.iter_mut().flat_map(|string| &mut string.packs) {
        *pack = PackRef::Type("six-7".to_owned());
    }
    bundle
}

#[test]
fn the_register_goes_out_and_in_as_csv() {
    let mut bundle = with_packs();
    pack(&mut bundle, "a1").remark = "dented, \"left\" corner; watch".to_owned();
    pack(&mut bundle, "a1").cell_resistances_mohm = vec![2.1, 2.2, 2.0, 2.3, 2.1, 2.2];
    pack(&mut bundle, "a2").cell_voltages_v.clear();
    pack(&mut bundle, "a2").used_mah = Some(4321.0);
    pack(&mut bundle, "a3").remark = "=1+1".to_owned();
    let text = pack_csv::write(&bundle, Units::default());
    for mark in [DecimalMark::Point, DecimalMark::Comma] {
        let text = pack_csv::write(&bundle, Units::default().with_decimal_mark(mark));
        assert!(text.starts_with('\u{feff}') && text.contains("'=1+1"), "{text}");
        assert_eq!(text.contains("4,18/4,18"), mark == DecimalMark::Comma, "{text}");
        let again = pack_csv::read(&bundle, &text).expect("its own file");
        assert_eq!((again.added, again.changed, again.refused.len()), (0, 7, 0));
        assert_eq!(again.bundle, bundle);
    }
    let empty = open_strict(DEMO).expect("the demo opens");
    let fresh = pack_csv::read(&empty, &text).expect("its own file").bundle;
    let without_ids = |bundle: &Bundle| {
        bundle.packs.iter().map(|pack| Pack { id: String::new(), ..pack.clone() }).collect::<Vec<_>>()
    };
    assert_eq!(without_ids(&fresh), without_ids(&bundle));
    open_strict(&save(&fresh).expect("finite")).expect("opens again");
    let taken = pack_csv::read(
        &bundle,
        "Label;type;cycles;cells_v\nA1;;44;4,10/4,11/4,10/4,10/4,10/4,10\nB1;Six cells, 7 Ah;3;\nB2;no such;3;\nB3;;many;\nB4;six-7;1;9.9",
    );
    let taken = taken.expect("a label");
    assert_eq!((taken.added, taken.changed), (1, 1));
    assert_eq!(taken.refused.len(), 3, "{:?}", taken.refused);
    assert!((taken.bundle.packs[0].cell_voltages_v[1] - 4.11).abs() < 1e-12);
    assert!(pack_csv::read(&bundle, "name,cycles\nA1,3").is_err());
}

#[test]
fn cells_are_typed_one_after_another() {
    let mut pack = Pack::default();
    let units = Units::metric();
    assert_eq!(CellReading::Voltage.typed("4.11", units), Ok(4.11));
    assert_eq!(CellReading::Voltage.typed("4,11", units), Ok(4.11));
    assert!(CellReading::Voltage.typed("41", units).is_err());
    assert_eq!(CellReading::Resistance.typed("2.15", units), Ok(2.15));
    CellReading::Voltage.put(&mut pack, 0, 4.1);
    CellReading::Voltage.put(&mut pack, 1, 4.12);
    CellReading::Voltage.put(&mut pack, 0, 4.11);
    assert_eq!(pack.cell_voltages_v, [4.11, 4.12]);
    assert_eq!(next_label(&with_packs()), "A8");
}

/// A day of six flights of the setup, three sets, one charger.
fn a_day() -> Bundle {
    let mut bundle = new_day(&open_strict(DEMO).expect("the demo opens"), "Mountain road").0;
    let day = &mut bundle.day_plans[0];
    day.chargers = 1;
    day.flights = vec![WantedFlight { setup: SETUP.to_owned(), count: 6, ..WantedFlight::default() }];
    let kind = kinds(&bundle, &bundle.day_plans[0]).remove(0);
    set_count(&mut bundle, "day", &kind, 3);
    bundle
}

#[test]
fn a_day_of_the_file_is_scheduled() {
    let bundle = a_day();
    assert_eq!(open_strict(&save(&bundle).expect("finite")), Ok(bundle.clone()));
    let own = kinds(&bundle, &bundle.day_plans[0]);
    assert_eq!((own.len(), own[0].name.as_str(), own[0].count), (1, "6 × Six cells, 7 Ah", 3));
    let ready = planned(&bundle, "day", &mut |setup| setup_flight(&bundle, setup)).expect("a day");
    let day = ready.scheduled().expect("in range");
    assert!(day.flights_done >= 4, "{}", day.flights_done);
    let stall = day.first_stall.expect("three sets and one charger for six flights");
    assert_eq!(stall.flight, 3);
    let words = ready.stall_words(&stall);
    assert!(words.starts_with("From ") && words.contains("before flight 4"), "{words}");
    // A flight takes 80 % of the packs, cautious: a charge puts that back and some heat.
    let one_wh = day.energy.value / 3600.0 / day.flights_done as f64;
    let full_wh = 6.0 * 6.0 * 3.8 * 7.0;
    assert!((0.6 * full_wh..1.1 * full_wh).contains(&one_wh), "{one_wh} Wh of {full_wh}");
    let lanes = Lanes::of(&ready, &day);
    assert_eq!(lanes.lanes.len(), 3);
    let waits = lanes.crew.bars.iter().filter(|bar| bar.kind == DayEventKind::WaitForSet).count();
    assert!(waits > 0 && lanes.crew.bars.len() == day.flights_done + waits, "{:?}", lanes.crew);
    let flights = flight_rows(&ready, &day);
    assert_eq!(flights.len(), day.flights_done);
    assert!(flights[0][1].starts_with("08:00–08:") && flights[0][3].ends_with("charger 1"), "{flights:?}");
    let words = plan_words(&bundle.day_plans[0]);
    assert!(
        words.contains("1 charger of 1200\u{a0}W") && words.contains("Turn-round 10\u{a0}min"),
        "{words}"
    );
    assert!(lanes.reading(&ready, &day, 0.0).starts_with("08:00 · flight 1 with 6 × Six cells, 7 Ah 1"));
    assert_eq!(event_rows(&ready, &day).len(), day.events.len());
    let rows = what_ifs(&ready);
    let flights: Vec<u32> = rows.iter().map(|row| row[1].parse().expect("a number")).collect();
    assert!(flights[1] >= flights[0] && flights[2] <= flights[0] && flights[3] >= flights[0], "{rows:?}");
}

#[test]
fn a_day_that_asks_too_much_is_refused_where_it_stands() {
    let refused = |change: fn(&mut DayPlan)| {
        let mut bundle = a_day();
        change(&mut bundle.day_plans[0]);
        let fault = planned(&bundle, "day", &mut |setup| setup_flight(&bundle, setup)).expect_err("refused");
        fault.field().to_owned()
    };
    assert_eq!(refused(|day| day.start = "late".to_owned()), "day_plans[0].start");
    assert_eq!(refused(|day| day.supply = "sun".to_owned()), "day_plans[0].supply");
    assert_eq!(refused(|day| day.charger_power_w = 0.0), "day_plans[0].charger_power_w");
    assert_eq!(refused(|day| day.flights[0].setup = "gone".to_owned()), "day_plans[0].flights[0].setup");
    assert_eq!(
        refused(|day| day.flights[0].flight_time_min = Some(90.0)),
        "day_plans[0].flights[0].flight_time_min"
    );
    assert_eq!(refused(|day| day.flights[0].earliest = "8".to_owned()), "day_plans[0].flights[0].earliest");
}

#[test]
fn times_of_the_day_are_read_and_shown() {
    for (text, seconds) in
        [("8:05", 29_100), ("08:05", 29_100), (" 08:05:30 ", 29_130), ("26:30", 95_400), ("0:00", 0)]
    {
        assert_eq!(clock::read(text), Some(seconds), "{text}");
    }
    for text in ["", "8", "8:5", "8:60", "48:00", "-1:00", "8:05:61", "a:b", "8:+5", "08:05:30:00"] {
        assert_eq!(clock::read(text), None, "{text}");
    }
    assert_eq!((clock::shown(29_100.0), clock::shown(29_101.0)), ("08:05".to_owned(), "08:06".to_owned()));
    assert_eq!(clock::exact(95_400.0), "26:30:00");
    assert_eq!(calendar::of_clock(0.0), ("1970-01-01".to_owned(), "19700101T000000Z".to_owned()));
    // 1,000,000,000 s: 9 September 2001, 01:46:40 UTC.
    assert_eq!(calendar::of_clock(1e12), ("2001-09-09".to_owned(), "20010909T014640Z".to_owned()));
}

#[test]
fn the_calendar_holds_each_flight() {
    let bundle = a_day();
    let ready = planned(&bundle, "day", &mut |setup| setup_flight(&bundle, setup)).expect("a day");
    let report = ready.report(&ready.scheduled().expect("in range"));
    let text =
        calendar::calendar(&report, "Mountain road", "2026-11-30", "20261126T120000Z").expect("a date");
    let lines: Vec<&str> = text.split("\r\n").collect();
    assert_eq!(lines[0], "BEGIN:VCALENDAR");
    assert_eq!(lines.iter().filter(|line| **line == "BEGIN:VEVENT").count(), report.flights_done);
    assert!(lines.contains(&"DTSTART:20261130T080000"), "{text}");
    // RFC 5545: commas of a text are escaped, no line is longer than 75 octets.
    assert!(text.contains("6 × Six cells\\, 7 Ah 1") && lines.iter().all(|line| line.len() <= 75), "{text}");
    assert_eq!(calendar::calendar(&report, "x", "soon", "20261126T120000Z"), None);
    let table = |mark| calendar::csv(&report, Units::default().with_decimal_mark(mark));
    let rows: Vec<String> = table(DecimalMark::Point).lines().map(str::to_owned).collect();
    assert_eq!(rows.len(), report.events.len() + 1);
    assert_eq!(rows[0], "\u{feff}event,start,end,flight,setup,set,charger");
    assert!(table(DecimalMark::Comma).starts_with("\u{feff}event;start;end;"));
}
