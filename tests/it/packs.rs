//! Packs on the charging table: fitness, joining against circuits solved by hand, series, transport.

use liftmargin_core::cell::Chemistry;
use liftmargin_core::limits::State;
use liftmargin_core::packs::{
    FitnessThresholds, JoinLimits, JoinReason, Joining, JoiningString, PackReading, TransportClass, fitness,
    join, nominal_energy, series_join, transport_class,
};
use liftmargin_core::supply::{Pack, PackString};
use proptest::prelude::*;
use uom::si::electric_charge::{ampere_hour, milliampere_hour};
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::{milliohm, ohm};
use uom::si::energy::watt_hour;
use uom::si::f64::{
    ElectricCharge, ElectricPotential, ElectricalResistance, Energy, Ratio, ThermodynamicTemperature,
};
use uom::si::power::watt;
use uom::si::ratio::ratio;
use uom::si::thermodynamic_temperature::degree_celsius;

use crate::rig;
use crate::table::assert_close;

fn volts(value: f64) -> ElectricPotential {
    ElectricPotential::new::<volt>(value)
}

/// A pack of twelve good cells.
fn good() -> PackReading {
    let mut pack = rig::pack(12.0, 1.5);
    pack.health.cycles = 20;
    PackReading {
        pack,
        cell_resistances: vec![ElectricalResistance::new::<milliohm>(1.5); 12],
        cell_voltages: vec![volts(3.85); 12],
        age_years: Some(Ratio::new::<ratio>(1.0)),
    }
}

#[track_caller]
fn check_fitness(change: impl FnOnce(&mut PackReading), state: State, reasons: &[&str]) {
    let mut reading = good();
    change(&mut reading);
    let found = fitness(&reading, &FitnessThresholds::default()).expect("in range");
    let keys: Vec<&str> = found.reasons.iter().map(|(_, reason)| reason.key()).collect();
    assert_eq!((found.state, keys.as_slice()), (state, reasons), "{found:?}");
}

#[test]
fn fitness_names_each_reason() {
    let capacity = |reading: &mut PackReading, ah: f64| {
        reading.pack.health.measured_capacity = Some(ElectricCharge::new::<ampere_hour>(ah));
    };
    check_fitness(|_| {}, State::Fine, &[]);
    check_fitness(|reading| capacity(reading, 9.6), State::Fine, &[]);
    check_fitness(|reading| capacity(reading, 9.5), State::Watch, &["capacity"]);
    check_fitness(|reading| capacity(reading, 8.0), State::No, &["capacity"]);
    check_fitness(|reading| reading.age_years = Some(Ratio::new::<ratio>(4.0)), State::Watch, &["age"]);
    check_fitness(|reading| reading.cell_resistances[3] *= 1.4, State::Watch, &["cell-resistance"]);
    check_fitness(|reading| reading.cell_resistances[3] *= 2.0, State::No, &["cell-resistance"]);
    check_fitness(|reading| reading.cell_voltages[7] += volts(0.025), State::Watch, &["cell-voltage"]);
    check_fitness(
        |reading| reading.cell_voltages[7] -= volts(0.12),
        State::No,
        &["cell-voltage", "imbalance"],
    );
    check_fitness(|reading| reading.cell_voltages = vec![volts(2.4); 12], State::No, &["empty-cell"; 12]);
    // The two of one pack that split its cells in halves: neither stands out by much, together they do.
    check_fitness(
        |reading| (0..6).for_each(|cell| reading.cell_voltages[cell] += volts(0.034)),
        State::Watch,
        &["imbalance"],
    );
    // 320 cycles hold 0.8^(320/300) of new.
    check_fitness(|reading| reading.pack.health.cycles = 320, State::Watch, &["capacity", "cycles"]);
}

#[test]
fn fitness_thresholds_are_settable_and_readings_are_checked() {
    let mut reading = good();
    reading.cell_resistances[0] *= 1.4;
    let lenient = FitnessThresholds {
        cell_resistance: [1.5, 2.0].map(Ratio::new::<ratio>),
        ..FitnessThresholds::default()
    };
    assert_eq!(fitness(&reading, &lenient).expect("in range").state, State::Fine);
    reading.cell_voltages[2] = volts(9.0);
    let refusal = fitness(&reading, &lenient).expect_err("refused");
    assert_eq!(refusal.field(), "cell_voltage");
}

/// A string of one twelve-cell pack: rest voltage of a cell, milliohms of a cell, leads.
fn string(cell_v: f64, cell_milliohm: f64, leads_milliohm: f64) -> JoiningString {
    let pack = Pack { rest_voltage: Some(volts(12.0 * cell_v)), ..rig::pack(12.0, cell_milliohm) };
    JoiningString {
        string: PackString { packs: vec![pack] },
        charge_c_rating: Ratio::new::<ratio>(1.0),
        leads: ElectricalResistance::new::<milliohm>(leads_milliohm),
    }
}

fn joined(strings: &[JoiningString]) -> Joining {
    join(strings, &JoinLimits::default()).expect("in range")
}

// By hand. A cell of 2 mΩ acts with 1.5 mΩ at once, at these charges 1.5 (1 + 2 exp(−s/0.12)): s = 0.78 at 3.9601 V (the 78 % row
// would be 3.9768), so the rise is below half a percent: 12 cells 18 mΩ, leads 2 mΩ, in all 20 mΩ a string.
#[test]
fn val_by_hand_two_strings_equalise() {
    let at = joined(&[string(3.97, 2.0, 2.0), string(3.95, 2.0, 2.0)]);
    // 0.24 V across 40 mΩ: 6 A; 36 A² times 20 mΩ is 0.72 W each; the node half way.
    assert_close(at.equalising_current.get::<ampere>(), 6.0, 0.005, "amperes");
    assert_close(at.heat.get::<watt>(), 1.44, 0.005, "watts");
    assert_close(at.node_voltage.get::<volt>(), 47.52, 1e-6, "node");
    assert!((at.strings[0].current + at.strings[1].current).get::<ampere>().abs() < 1e-9);
    // 6 A of 12 A charge rating: half; 20 mV of 50: below half.
    assert_eq!(at.verdict, State::Fine, "{:?}", at.reasons);
}

// By hand, node analysis of three strings with R 20, 20 and 32 mΩ (cells 3 mΩ: 27 mΩ, leads 5).
#[test]
fn val_by_hand_three_unlike_strings() {
    let at = joined(&[string(3.97, 2.0, 2.0), string(3.97, 2.0, 2.0), string(3.90, 3.0, 5.0)]);
    // E 47.64, 47.64, 46.80: V = (47.64·50·2 + 46.80·31.25)/(131.25) = 47.44 V; out of the first two 10 A each, 20 A into the third.
    assert_close(at.node_voltage.get::<volt>(), 47.44, 1e-4, "node");
    assert_close(at.strings[0].current.get::<ampere>(), 10.0, 0.01, "first");
    assert_close(at.strings[2].current.get::<ampere>(), -20.0, 0.01, "third");
    // 20 A into a pack that may be charged with 12 A, and 70 mV a cell: do not join.
    assert_eq!(at.verdict, State::No);
    let keys: Vec<&str> =
        at.reasons.iter().filter(|(state, _)| *state == State::No).map(|(_, reason)| reason.key()).collect();
    assert_eq!(keys, ["cell-difference", "charge-current"]);
    // To match, the third is charged to 3.97 V a cell: 79.2 % less 72.0 % (from the curve) of 12 Ah.
    let charge = at.strings[2].charge[0].get::<milliampere_hour>();
    assert!((charge - 12_000.0 * (0.791_91 - 0.709_9)).abs() < 10.0, "{charge}");
    assert!(at.strings[0].charge[0].get::<milliampere_hour>().abs() < 1e-6);
}

#[test]
fn strings_that_must_never_meet() {
    let keys = |at: &Joining| -> Vec<&str> { at.reasons.iter().map(|(_, reason)| reason.key()).collect() };
    let mut short = string(3.97, 2.0, 2.0);
    short.string.packs[0].cells_in_series = 11;
    short.string.packs[0].rest_voltage = Some(volts(11.0 * 3.97));
    let at = joined(&[string(3.97, 2.0, 2.0), short]);
    assert_eq!(at.verdict, State::No);
    assert!(keys(&at).contains(&"unequal-cells") && at.equalising_current.get::<ampere>() > 90.0);
    let mut other = string(3.97, 2.0, 2.0);
    other.string.packs[0].cell.chemistry = Chemistry::LithiumIonCylindrical;
    assert!(keys(&joined(&[string(3.97, 2.0, 2.0), other])).contains(&"unlike-chemistry"));
    let mut cold = string(3.96, 2.0, 2.0);
    cold.string.packs[0].temperature = ThermodynamicTemperature::new::<degree_celsius>(-3.0);
    let at = joined(&[string(3.97, 2.0, 2.0), cold]);
    assert!(matches!(at.reasons[0], (State::No, JoinReason::TooCold { string: 1 })), "{:?}", at.reasons);
}

proptest! {
    #[test]
    fn prop_joined_currents_cancel_and_grow_with_the_difference(
        cells in prop::collection::vec((3.5..4.2_f64, 0.5..8.0_f64, 0.0..20.0_f64), 1..8),
        wider in 1.0..1.5_f64,
    ) {
        let strings: Vec<_> = cells.iter().map(|&(v, r, leads)| string(v, r, leads)).collect();
        let at = joined(&strings);
        let sum: f64 = at.strings.iter().map(|string| string.current.get::<ampere>()).sum();
        prop_assert!(sum.abs() < 1e-6);
        prop_assert!(at.heat.get::<watt>() >= 0.0 && at.heat.is_finite());
        if cells.len() == 2 {
            // Leads added to both strings never raise the current.
            let longer: Vec<_> = cells.iter().map(|&(v, r, leads)| string(v, r, leads * wider + 1.0)).collect();
            prop_assert!(joined(&longer).equalising_current <= at.equalising_current);
        }
        let highest = cells.iter().map(|cell| cell.0).fold(0.0, f64::max);
        // Charged to match, they join.
        let matched: Vec<_> = cells.iter().map(|&(_, r, leads)| string(highest, r, leads)).collect();
        prop_assert_eq!(joined(&matched).verdict, State::Fine);
    }
}

// By hand: 12 Ah full and 10 Ah at 60 %, a fifth kept in each: 9.6 Ah and 4 Ah.
#[test]
fn val_by_hand_unequal_packs_in_series() {
    let strong = rig::pack(12.0, 1.5);
    let sixty = ElectricPotential::new::<volt>(12.0 * 3.8365);
    let weak = Pack { rest_voltage: Some(sixty), ..rig::pack(10.0, 1.5) };
    let string = PackString { packs: vec![strong, weak] };
    let at = series_join(&string, Ratio::new::<ratio>(0.2)).expect("in range");
    assert_eq!(at.ruled_by, 1);
    assert_close(at.usable.get::<ampere_hour>(), 4.0, 1e-6, "Ah");
    assert_close(at.left_over[0].get::<ampere_hour>(), 5.6, 1e-6, "Ah");
    assert_close(at.ends_at[0].get::<ratio>(), 1.0 - 4.0 / 12.0, 1e-6, "end");
    assert_close(at.ends_at[1].get::<ratio>(), 0.2, 1e-6, "end");
    assert_eq!(
        series_join(&PackString { packs: vec![] }, Ratio::new::<ratio>(0.2)).expect_err("none").field(),
        "supply"
    );
}

// Thresholds: 49 CFR 175.10(a)(18). A twelve-cell pack of 12 Ah holds 12 · 3.7 V · 12 Ah = 532.8 Wh.
#[test]
fn val_175_10_transport_thresholds() {
    assert_close(nominal_energy(&rig::pack(12.0, 1.5)).get::<watt_hour>(), 532.8, 1e-9, "Wh");
    for (wh, class) in [
        (99.9, TransportClass::UpTo100),
        (100.0, TransportClass::UpTo100),
        (100.1, TransportClass::UpTo160),
        (160.0, TransportClass::UpTo160),
        (160.1, TransportClass::Above160),
        (532.8, TransportClass::Above160),
    ] {
        assert_eq!(transport_class(Energy::new::<watt_hour>(wh)), class, "{wh} Wh");
    }
    assert!((TransportClass::greatest_charge_as_cargo().get::<ratio>() - 0.3).abs() < 1e-12);
}

/// A resistance for a hand calculation stays what it is.
#[test]
fn leads_count_in_full() {
    let at = joined(&[string(3.97, 2.0, 50.0), string(3.95, 2.0, 50.0)]);
    assert_close(at.strings[0].resistance.get::<ohm>(), 0.068, 0.005, "ohm");
}
