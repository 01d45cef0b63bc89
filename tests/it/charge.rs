//! Charging: closed form on a straight curve, whole charges of an open model, storage, what the supply gives.

use liftmargin_core::cell::{Chemistry, open_circuit_voltage};
use liftmargin_core::charge::{
    ChargeCourse, ChargeRule, ChargeSettings, Charger, ChargingPack, charge, storage_charge,
};
use liftmargin_core::supply::Pack;
use proptest::prelude::*;
use uom::si::electric_charge::{ampere_hour, coulomb, milliampere_hour};
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::ohm;
use uom::si::energy::joule;
use uom::si::f64::{ElectricCurrent, ElectricPotential, ElectricalResistance, Power, Ratio};
use uom::si::power::watt;
use uom::si::ratio::ratio;
use uom::si::time::second;

use crate::rig;
use crate::table::{Table, assert_close};

fn charger(power_w: f64, current_a: f64) -> Charger {
    Charger {
        output_power: Power::new::<watt>(power_w),
        output_current: ElectricCurrent::new::<ampere>(current_a),
        efficiency: Ratio::new::<ratio>(0.85),
    }
}

fn charging(pack: Pack, c_rating: f64, from: f64, to: f64) -> ChargingPack {
    let share = Ratio::new::<ratio>;
    ChargingPack { pack, charge_c_rating: share(c_rating), from: share(from), to: share(to) }
}

fn charged(pack: ChargingPack, charger: &Charger) -> ChargeCourse {
    charge(&[pack], charger, &ChargeSettings::default()).expect("in range")
}

/// As the default, but the resistance the same at every charge and not settling.
fn constant_resistance() -> ChargeSettings {
    let mut settings = ChargeSettings { settling: Ratio::new::<ratio>(1.0), ..ChargeSettings::default() };
    settings.behaviour.low_charge_rise = Ratio::new::<ratio>(0.0);
    settings
}

/// Time over one straight piece of the curve: at constant current Q/I; at constant voltage the charge still missing decays with
/// τ = R dQ/dU, so t = τ ln(I_start/I_end).
fn closed_form_s(
    capacity_c: f64,
    cell_ohm: f64,
    full_v: f64,
    current_a: f64,
    cut_off_a: f64,
    from: f64,
) -> f64 {
    let open_v = |share: f64| {
        open_circuit_voltage(Chemistry::LithiumPolymer, Ratio::new::<ratio>(share))
            .expect("in range")
            .get::<volt>()
    };
    let mut time_s = 0.0;
    let mut share = from;
    while share < 1.0 - 1e-9 {
        let end = ((share * 50.0 + 1e-9).floor() + 1.0) / 50.0;
        let (from_v, to_v) = (open_v(share), open_v(end));
        let per_volt_c = capacity_c * (end - share) / (to_v - from_v);
        // Constant current up to where the taper begins inside this piece.
        let taper_from_v = full_v - current_a * cell_ohm;
        let knee_v = taper_from_v.clamp(from_v, to_v);
        time_s += (knee_v - from_v) * per_volt_c / current_a;
        let (first_a, last_a) = ((full_v - knee_v) / cell_ohm, (full_v - to_v) / cell_ohm);
        if knee_v < to_v {
            if last_a <= cut_off_a {
                return time_s + cell_ohm * per_volt_c * (first_a / cut_off_a).ln();
            }
            time_s += cell_ohm * per_volt_c * (first_a / last_a).ln();
        }
        share = end;
    }
    time_s
}

// Closed form, piece by piece. The same law, so only rounding lies between.
#[test]
fn val_closed_form_constant_current_constant_voltage() {
    for (current_a, cell_milliohm, from) in
        [(12.0, 2.0, 0.2), (24.0, 6.0, 0.1), (6.0, 20.0, 0.5), (18.0, 3.0, 0.93)]
    {
        let pack = charging(rig::pack(12.0, cell_milliohm), 5.0, from, 1.0);
        let course =
            charge(&[pack], &charger(30_000.0, current_a), &constant_resistance()).expect("in range");
        let want_s = closed_form_s(12.0 * 3600.0, cell_milliohm / 1000.0, 4.2, current_a, 0.6, from);
        assert_close(course.duration.get::<second>(), want_s, 1e-6, "seconds");
    }
}

// By hand: 500 W into twelve cells, in the middle of the charge, where a charge of two thousandths is at one voltage.
#[test]
fn val_by_hand_a_weak_charger_rules_by_its_power() {
    let from = 0.50;
    let pack = charging(rig::pack(12.0, 2.0), 2.0, from, from + 0.002);
    let course = charge(&[pack], &charger(500.0, 40.0), &constant_resistance()).expect("in range");
    assert_eq!(course.ruled_by, ChargeRule::ChargerPower);
    // U = 3.7925 V at 50 %: I from 500 = 12 I (3.7926 + 0.002 I) is 10.926 A.
    assert_close(course.duration.get::<second>(), 0.002 * 12.0 * 3600.0 / 10.926, 1e-3, "seconds");
    assert_close(
        course.energy.get::<joule>(),
        500.0 * course.duration.get::<second>() / 0.85,
        1e-3,
        "joules",
    );
}

// Doyle–Fuller–Newman model, Ai et al. 2020, tests/references/charge: whole charges within 3 %. The settling was chosen on the
// first row (0.46 C from 20 %); the others are held out. Resistance: that of its 10 s pulse at 50 %, 35.7 mΩ.
#[test]
fn val_ai2020_whole_charge() {
    let mut cell = rig::pack(2.4663, 35.7);
    (cell.cells_in_series, cell.mass) = (1, cell.mass * 0.2);
    cell.cell.resistance = ElectricalResistance::new::<ohm>(0.0357);
    // The run's cut-off is 0.114 A.
    let settings =
        ChargeSettings { cut_off: Ratio::new::<ratio>(0.114 / 2.4663), ..ChargeSettings::default() };
    for row in Table::read("charge/charge_times.csv").rows() {
        let pack = charging(cell, 2.0, row.number("start_state_of_charge"), 1.0);
        let course = charge(&[pack], &charger(100.0, row.number("current_A")), &settings).expect("in range");
        assert_close(course.duration.get::<second>(), row.number("whole_s"), 0.03, "seconds");
        assert_close(course.charge.get::<milliampere_hour>(), row.number("whole_mAh"), 0.01, "mAh");
        // Where the taper begins is harder: one resistance for all moments.
        let constant_s = course.constant_current_for.get::<second>();
        assert_close(constant_s, row.number("constant_current_s"), 0.12, "seconds at constant current");
    }
}

#[test]
fn the_slowest_rule_is_named() {
    let of = |power_w, current_a, rating, from| {
        charged(charging(rig::pack(12.0, 2.0), rating, from, 1.0), &charger(power_w, current_a)).ruled_by
    };
    assert_eq!(of(3000.0, 40.0, 1.0, 0.3), ChargeRule::PackRating);
    assert_eq!(of(3000.0, 8.0, 1.0, 0.3), ChargeRule::ChargerCurrent);
    assert_eq!(of(200.0, 40.0, 1.0, 0.3), ChargeRule::ChargerPower);
    assert_eq!(of(3000.0, 40.0, 5.0, 0.99), ChargeRule::FullVoltage);
    assert_eq!(of(3000.0, 40.0, 5.0, 1.0), ChargeRule::Nothing);
}

// By hand: 3.80 V a cell is 52.04 % of lithium polymer (between 3.7999 V at 52 % and 3.8080 V at 54 %).
#[test]
fn val_by_hand_storage_charge() {
    let mut pack = rig::pack(12.0, 2.0);
    let to = ElectricPotential::new::<volt>(3.8);
    let full = storage_charge(&pack, to).expect("in range");
    assert!((full.to.get::<ratio>() - 0.520_25).abs() < 2e-4, "{full:?}");
    assert_close(full.charge.get::<ampere_hour>(), -12.0 * 0.479_75, 1e-3, "Ah");
    pack.rest_voltage = Some(ElectricPotential::new::<volt>(12.0 * 3.8));
    assert!(storage_charge(&pack, to).expect("in range").charge.get::<coulomb>().abs() < 1.0);
    assert_eq!(
        storage_charge(&pack, ElectricPotential::new::<volt>(3.0)).expect_err("refused").field(),
        "storage_voltage"
    );
}

#[test]
fn what_is_out_of_range_is_refused() {
    let pack = charging(rig::pack(12.0, 2.0), 1.0, 0.2, 1.0);
    let refused = |packs: &[ChargingPack], charger: &Charger| {
        charge(packs, charger, &ChargeSettings::default()).expect_err("refused").field()
    };
    assert_eq!(refused(&[], &charger(1000.0, 20.0)), "packs_on_charger");
    assert_eq!(refused(&[pack], &charger(1.0, 20.0)), "charger_power");
    assert_eq!(refused(&[pack], &charger(f64::NAN, 20.0)), "charger_power");
    assert_eq!(
        refused(&[charging(rig::pack(12.0, 2.0), 50.0, 0.2, 1.0)], &charger(1000.0, 20.0)),
        "charge_c_rating"
    );
    assert_eq!(
        refused(&[charging(rig::pack(12.0, 2.0), 1.0, -0.2, 1.0)], &charger(1000.0, 20.0)),
        "state_of_charge"
    );
}

proptest! {
    #[test]
    fn prop_a_charge_is_never_shorter_for_less(
        capacity_ah in 2.0..30.0_f64,
        milliohm in 0.5..10.0_f64,
        rating in 0.3..4.0_f64,
        power_w in 100.0..3000.0_f64,
        current_a in 2.0..60.0_f64,
        from in 0.0..0.95_f64,
        packs in 1..8_usize,
    ) {
        let pack = charging(rig::pack(capacity_ah, milliohm), rating, from, 1.0);
        let settings = ChargeSettings::default();
        let set = |count: usize, charger: &Charger| {
            charge(&vec![pack; count], charger, &settings).expect("in range")
        };
        let own = charger(power_w, current_a);
        let course = set(packs, &own);
        let time_s = |course: &ChargeCourse| course.duration.get::<second>();
        prop_assert!(course.duration.is_finite() && course.energy.is_finite());
        prop_assert!(course.constant_current_for <= course.duration);
        // Half the power, half the current, one pack more, a lower start: never sooner.
        for slower in [
            set(packs, &Charger { output_power: own.output_power / 2.0, ..own }),
            set(packs, &Charger { output_current: own.output_current / 2.0, ..own }),
            set(packs + 1, &own),
        ] {
            prop_assert!(time_s(&slower) >= time_s(&course) * (1.0 - 1e-9));
        }
        // No more than the circuit lets in: never above the charger's power, the steps hold all of it and never rise.
        let lasts: f64 = course.steps.iter().map(|step| step.duration.get::<second>()).sum();
        prop_assert!(lasts >= time_s(&course) && lasts < time_s(&course) + 1.0 + 1e-6);
        let promised: f64 = course.steps.iter().map(|step| (step.duration * step.power).get::<joule>()).sum();
        prop_assert!(promised >= course.energy.get::<joule>() * (1.0 - 1e-6), "{promised} of {:?}", course.energy);
        for step in &course.steps {
            prop_assert!(step.power.get::<watt>() <= power_w / 0.85 * (1.0 + 1e-9));
        }
        for pair in course.steps.windows(2) {
            prop_assert!(pair[1].power <= pair[0].power);
        }
    }
}
