//! What a landing leaves in the register of packs: cycles, and the charge that was taken out of each.

use liftmargin_core::limits::State;
use liftmargin_document::ground::cell_entry::CellReading;
use liftmargin_document::ground::register::{charger_words, rows, set_charged};
use liftmargin_document::ground::setup_flight;
use liftmargin_document::ground::setup_packs::{flown_packs, join_for};
use liftmargin_document::log::{Landing, LiftOff, land, lift_off};
use liftmargin_document::model::Bundle;
use liftmargin_document::present::Units;
use liftmargin_document::resolve;
use liftmargin_document::words::counts_with::counts_with;

use crate::ground_screens::{SETUP, TODAY, pack, with_packs};

/// What lands in Airborne is counted in the register; a second flight on the same charge is no second cycle.
#[test]
fn a_landing_counts_its_packs_and_flying_on_counts_no_cycle() {
    let mut bundle = with_packs();
    let cycles = |bundle: &Bundle, id: &str| {
        let pack = bundle.packs.iter().find(|pack| pack.id == id).expect("there");
        (pack.cycles, pack.cell_voltages_v.len())
    };
    assert_eq!(cycles(&bundle, "a1"), (40, 6));
    for (rest_cell_voltage_v, expected) in [(None, 41), (Some(3.9), 41), (None, 41)] {
        bundle = flown(&bundle, rest_cell_voltage_v, Some(4000.0), None);
        assert_eq!(cycles(&bundle, "a1"), (expected, 0));
    }
    set_charged(&mut bundle, |pack| pack.id != "a2");
    bundle = flown(&bundle, None, Some(4000.0), None);
    assert_eq!((cycles(&bundle, "a1"), cycles(&bundle, "a2")), ((42, 0), (41, 0)));
    assert_eq!((cycles(&bundle, "a7"), pack(&mut bundle, "a7").used_mah), ((40, 0), None), "never on board");
}

/// A flight of the setup from lift-off to landing.
fn flown(bundle: &Bundle, start_v: Option<f64>, used_mah: Option<f64>, rest_v: Option<f64>) -> Bundle {
    let at = LiftOff { rest_cell_voltage_v: start_v, ..LiftOff::default() };
    let (aloft, id) = lift_off(bundle, bundle, SETUP, at).expect("lifts off");
    let landing =
        Landing { flight_time_s: 300.0, used_mah, rest_cell_voltage_v: rest_v, ..Landing::default() };
    land(&aloft, &id, &landing).expect("lands")
}

/// What the meter counted on the bus goes to the strings as the circuit shares it, on top of what was missing before; the register, the
/// card, the join check and matching start from there, until the packs are charged.
#[test]
fn a_landing_counts_the_charge_of_its_packs() {
    let mut bundle = with_packs();
    let used = |bundle: &Bundle, id: &str| {
        bundle.packs.iter().find(|pack| pack.id == id).expect("there").used_mah.expect("counted")
    };
    // A third of the strings' capacity less: a5 and a6 give less than the others.
    for id in ["a5", "a6"] {
        pack(&mut bundle, id).measured_capacity_mah = Some(5_000.0);
    }
    let before = resolve(&bundle, SETUP).expect("it resolves").0;
    bundle = flown(&bundle, None, Some(12_000.0), None);
    let missing = |string: usize| {
        let pack = before.supply.strings[string].packs[0];
        let capacity_mah = pack.health.measured_capacity.expect("measured").value / 3.6;
        capacity_mah * (1.0 - pack.state_of_charge().expect("a charge").value)
    };
    let meter = 1.0 + before.supply.meter.scale_error.value;
    let given: Vec<f64> =
        ["a1", "a3", "a5"].iter().enumerate().map(|(at, id)| used(&bundle, id) - missing(at)).collect();
    let sum: f64 = given.iter().sum();
    // Each is rounded up to a whole mAh.
    assert!((0.0..3.5).contains(&(sum - 12_000.0 / meter)), "{given:?}");
    assert!(given[2] < 0.9 * given[0], "{given:?}");
    assert!((used(&bundle, "a1") - used(&bundle, "a2")).abs() < 25.0, "in series they give alike");
    let row = rows(&bundle, TODAY).remove(0);
    assert!(row.storage.contains("mAh taken out, ") && row.storage.contains("% left, "), "{}", row.storage);
    assert!(row.storage.contains("full in "), "{}", row.storage);
    let (ids, words) = flown_packs(&bundle, SETUP).expect("flown");
    assert!(ids.len() == 6 && words.contains("mAh taken out by landings"), "{words}");
    let counts = counts_with(
        &bundle,
        bundle.setups.iter().find(|setup| setup.id == SETUP).expect("it"),
        Units::default(),
    );
    assert!(counts.iter().any(|part| part.words.contains("taken out by landings")), "{counts:?}");
    assert!(charger_words(&bundle).contains("1200\u{a0}W and 20\u{a0}A"));
    // The card flies what is left of them, a day plans with full ones.
    let (now, _) = resolve(&bundle, SETUP).expect("it resolves");
    let left = now.supply.strings[0].packs[0].state_of_charge().expect("a charge").value;
    let capacity_mah = 6_780.0;
    assert!((left - (1.0 - used(&bundle, "a1") / capacity_mah)).abs() < 1e-9, "{left}");
    let planned = |bundle: &Bundle| setup_flight(bundle, SETUP).expect("a flight").time;
    let as_landed = planned(&bundle);
    assert_ne!(
        join_for(&bundle, SETUP).expect("strings").verdict,
        State::Fine,
        "the strings stand apart now"
    );
    set_charged(&mut bundle, |_| true);
    assert_eq!(flown_packs(&bundle, SETUP), None);
    assert_eq!(planned(&bundle), as_landed);
    let (full, _) = resolve(&bundle, SETUP).expect("it resolves");
    assert_eq!(full.supply.strings[0].packs[0].rest_voltage, None);
    // Without a meter by the voltage after landing; with neither it is not known.
    let by_rest = flown(&bundle, None, None, Some(3.80));
    let left = 1.0 - used(&by_rest, "a1") / capacity_mah;
    assert!((0.3..0.6).contains(&left), "{left}");
    let unknown = flown(&bundle, None, None, None);
    assert_eq!(unknown.packs[0].used_mah, None);
    // Voltages that are read win, and end what was counted.
    let mut read = by_rest.clone();
    CellReading::Voltage.put(pack(&mut read, "a1"), 0, 4.1);
    assert_eq!(read.packs[0].used_mah, None);
    // Flying on with what is left adds to it.
    let on = flown(&bundle, Some(4.0), Some(3_000.0), None);
    assert!(used(&on, "a1") > 1_000.0 + 1_000.0 / meter, "{}", used(&on, "a1"));
}
