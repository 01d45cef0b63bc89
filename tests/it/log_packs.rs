//! What recordings teach of packs.

use std::fmt::Write as _;

use liftmargin_core::cell::{CellBehaviour, Run, RunPoint, open_circuit_voltage, predict};
use liftmargin_core::units::{ElectricCurrent, ElectricPotential, ElectricalResistance, Ratio, Time};
use liftmargin_document::log::{
    Landing, LessonFault, by_hand, edited, of_recording, pack_lesson, resolve_flown, take_lesson,
};
use liftmargin_document::model::{Bundle, Flight, PackType, Setup};
use liftmargin_document::record::Record as _;
use liftmargin_document::trace::read;
use uom::si::electric_charge::milliampere_hour;
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::milliohm;
use uom::si::ratio::ratio;
use uom::si::time::second;

use crate::keep::demo;
use crate::table::assert_close;

const NOW: f64 = 1_795_664_676_000.0;
const SETUP: &str = "bend-zoom";

/// A recording of packs of this resistance, at a power that goes up and down; how much of the pack is left.
fn recorded(bundle: &Bundle, cell_mohm: f64, load: f64, seconds: u32) -> (String, f64) {
    let probe = Flight { setup: SETUP.to_owned(), ..Flight::default() };
    let (setup, _) = resolve_flown(bundle, &probe, false).expect("resolves");
    let supply = &setup.supply;
    let pack = &supply.strings[0].packs[0];
    let capacity = pack.cell.capacity;
    let one_c = capacity.get::<milliampere_hour>() / 1000.0;
    let current = |time: u32| if time % 60 < 40 { 1.1 * load * one_c } else { 0.7 * load * one_c };
    let points: Vec<RunPoint> = (0..=seconds)
        .map(|time| RunPoint {
            time: Time::new::<second>(f64::from(time)),
            current: ElectricCurrent::new::<ampere>(current(time)),
            voltage: ElectricPotential::new::<volt>(3.7),
        })
        .collect();
    let start = Ratio::new::<ratio>(1.0);
    let run = Run { chemistry: pack.cell.chemistry, capacity, start, points };
    let resistance = ElectricalResistance::new::<milliohm>(cell_mohm);
    let voltages = predict(&run, resistance, &CellBehaviour::default()).expect("runs");
    let strings = supply.strings.len() as f64;
    let cells = supply.strings[0].packs.iter().map(|pack| f64::from(pack.cells_in_series)).sum::<f64>();
    let mut text = "time_s,voltage_v,current_a\n".to_owned();
    let mut used_as = 0.0;
    for (point, cell) in run.points.iter().zip(&voltages) {
        let cell_a = point.current.get::<ampere>();
        used_as += cell_a;
        let bus_a = strings * cell_a;
        let bus_v = cells * cell.get::<volt>()
            - bus_a * supply.bus_resistance.value
            - cell_a * supply.string_resistance.value;
        writeln!(text, "{},{bus_v:.3},{bus_a:.2}", point.time.get::<second>()).unwrap();
    }
    (text, 1.0 - used_as / capacity.value)
}

fn with_recording(bundle: &Bundle, cell_mohm: f64, load: f64, rest: bool) -> (Bundle, String) {
    let (text, left) = recorded(bundle, cell_mohm, load, 480);
    let trace = read(text.as_bytes(), None).expect("a recording");
    let (with, id) = of_recording(bundle, SETUP, "flight.csv", &trace, NOW).expect("an entry");
    let probe = Flight { setup: SETUP.to_owned(), ..Flight::default() };
    let chemistry = resolve_flown(bundle, &probe, false).unwrap().0.supply.strings[0].packs[0].cell.chemistry;
    let rest_v = open_circuit_voltage(chemistry, Ratio::new::<ratio>(left)).unwrap().get::<volt>();
    let with = edited(&with, &id, NOW, |flight| flight.rest_cell_voltage_v = rest.then_some(rest_v));
    (with, id)
}

/// What `tests/browser/log.spec.ts` takes in: packs of 1.4 times the demo's resistance at two powers. `WRITE=1` writes them anew.
#[test]
fn regress_the_recordings_of_the_browser_tests() {
    let demo = demo();
    for (name, load) in [("low", 2.5), ("high", 4.5)] {
        let path = format!("{}/browser/recordings/{name}.csv", env!("CARGO_MANIFEST_DIR"));
        let (text, _) = recorded(&demo, 1.4 * own_mohm(&demo), load, 480);
        if std::env::var_os("WRITE").is_some() {
            std::fs::write(&path, &text).expect("written");
        }
        let kept = std::fs::read_to_string(&path).expect("kept");
        let numbers = |text: &str| -> Vec<f64> {
            text.lines().skip(1).flat_map(|row| row.split(',').map(|cell| cell.parse().unwrap())).collect()
        };
        let (kept, made) = (numbers(&kept), numbers(&text));
        assert_eq!(kept.len(), made.len());
        assert!(
            kept.iter().zip(&made).all(|(one, other)| (one - other).abs() < 0.02),
            "{name} is of another model"
        );
    }
}

fn own_mohm(bundle: &Bundle) -> f64 {
    let probe = Flight { setup: SETUP.to_owned(), ..Flight::default() };
    let (setup, _) = resolve_flown(bundle, &probe, false).unwrap();
    setup.supply.strings[0].packs[0].cell.resistance.get::<milliohm>()
}

/// Our own cell model gives its own resistance and capacity back: no word of how well it fits a real pack.
#[test]
fn regress_a_recording_gives_resistance_and_capacity_back() {
    let demo = demo();
    let mohm = 1.4 * own_mohm(&demo);
    let (one, _) = with_recording(&demo, mohm, 2.5, true);
    let (bundle, id) = with_recording(&one, mohm, 4.5, true);
    let lesson = pack_lesson(&bundle, &id).expect("a lesson");
    assert_eq!(lesson.recordings, 2);
    // The learner's prior of the curve draws it up; stated doubt and the safe side hold.
    let off = lesson.cell_resistance_mohm / mohm - 1.0;
    assert!(
        (-0.03..0.2).contains(&off) && off.abs() < 2.0 * lesson.resistance_spread,
        "{off:.3}: {lesson:?}"
    );
    assert!(lesson.held_out_error_mv < 10.0 && lesson.resistance_spread > 0.0, "{lesson:?}");
    let (capacity_mah, error) = lesson.capacity_mah.expect("a rest voltage was entered");
    assert_close(capacity_mah, lesson.capacity_before_mah, 0.02, "capacity");
    assert!(error > 0.001 && error < 0.1, "{error}");
    let before = bundle.clone();
    let taught = take_lesson(&bundle, &lesson);
    assert_eq!(bundle, before, "nothing is changed unasked");
    let kind = PackType::find(&taught, &lesson.packs[0].1).expect("it is a type").1;
    assert_close(kind.measured_cell_resistance_mohm.unwrap(), lesson.cell_resistance_mohm, 1e-3, "taken");
    assert!(kind.measured_capacity_mah.unwrap() <= kind.capacity_mah);
}

#[test]
fn regress_without_a_rest_voltage_no_capacity_and_refusals_in_words() {
    let demo = demo();
    let (one, _) = with_recording(&demo, 1.2 * own_mohm(&demo), 2.5, false);
    let (bundle, id) = with_recording(&one, 1.2 * own_mohm(&demo), 4.5, false);
    assert_eq!(pack_lesson(&bundle, &id).expect("a lesson").capacity_mah, None);
    let landing =
        Landing { flight_time_s: 300.0, used_mah: Some(9000.0), now_unix_ms: NOW, ..Landing::default() };
    let (hand, hand_id) = by_hand(&bundle, SETUP, NOW, &landing).unwrap();
    assert_eq!(pack_lesson(&hand, &hand_id), Err(LessonFault::NoRecording));
    let only_voltage = read(b"time_s,voltage_v,used_mah\n0,50,0\n60,49,900\n120,48,1800\n", None).unwrap();
    let (bare, bare_id) = of_recording(&demo, SETUP, "v.csv", &only_voltage, NOW).unwrap();
    assert_eq!(pack_lesson(&bare, &bare_id), Err(LessonFault::NoCourse));
    let mut gone = bundle.clone();
    gone.pack_types.clear();
    gone.packs.clear();
    gone.setups.retain(|setup: &Setup| setup.id != SETUP);
    assert_eq!(pack_lesson(&gone, &id), Err(LessonFault::PacksGone));
    assert!(LessonFault::InDoubt { spread_percent: 40.0, held_out_mv: 33.0 }.to_string().contains("40 %"));
}
