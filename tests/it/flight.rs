//! Flights: common-practice checks, limits and events, one string lost.

use liftmargin_core::flight::{
    FirstFailure, Flight, FlightLimit, FlightSettings, LossMoment, LossOutcome, NoFlight, energy_balance,
    fly, fly_brief, fly_with, string_lost, warm_pack_gain,
};
use liftmargin_core::profile::{LegDemand, LegKind};
use liftmargin_core::supply::{MeterPlace, Supply};
use uom::si::electric_charge::{ampere_hour, milliampere_hour};
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::milliohm;
use uom::si::energy::joule;
use uom::si::f64::{
    ElectricCharge, ElectricPotential, ElectricalResistance, Power, Ratio, ThermodynamicTemperature, Time,
};
use uom::si::power::watt;
use uom::si::ratio::ratio;
use uom::si::thermodynamic_temperature::degree_celsius;
use uom::si::time::{minute, second};

use crate::rig::{close_by, leg, pack, reserve, supply, two_strings};
use crate::table::assert_close;

/// Two strings of 12 Ah carry about 23 kg: 4.2 kW of hover.
const HOVER_W: f64 = 4200.0;

fn flown(supply: &Supply, demand: &LegDemand, share: f64) -> Flight {
    fly(supply, demand, &reserve(share)).expect("in range").expect("flies")
}

/// Turn-back to land-by on a string's meter, mAh.
fn cost_of_way_home(homebound: &[(LegKind, f64, f64)]) -> f64 {
    let homebound = homebound.iter().map(|&(kind, duration_s, share)| leg(kind, duration_s, share * HOVER_W));
    let demand = LegDemand { homebound: homebound.collect(), ..close_by(HOVER_W) };
    let flight = flown(&two_strings(), &demand, 0.2);
    (flight.marks_by_meter[1].land_by - flight.marks_by_meter[1].turn_back).get::<milliampere_hour>()
}

// Common practice, no source: land with 20 % left, so a string of 12,000 mAh is down at 9,600 on its own meter
// and two such strings at 19,200 on a bus meter.
#[test]
fn common_practice_land_by_is_four_fifths() {
    let flight = flown(&two_strings(), &close_by(HOVER_W), 0.2);
    assert_eq!(flight.limit, FlightLimit::ReserveShare);
    for (meter, expected_mah) in flight.marks_by_meter.iter().zip([19_200.0, 9_600.0, 9_600.0]) {
        // 5 ms of hover current is 0.1 mAh.
        let land_by_mah = meter.land_by.get::<milliampere_hour>();
        assert!((land_by_mah - expected_mah).abs() < 0.5, "{land_by_mah} for {expected_mah}");
    }
}

// Common practice, no source: from close by the crew starts home about 1,000 mAh per string before land-by. A straight
// way down costs less than that, a slow one with a go-around more.
#[test]
fn common_practice_turn_back_is_1000_mah_before() {
    let straight = cost_of_way_home(&[(LegKind::Descent, 20.0, 0.9), (LegKind::Landing, 15.0, 1.0)]);
    let with_go_around = cost_of_way_home(&[
        (LegKind::Return, 25.0, 0.95),
        (LegKind::Descent, 30.0, 0.9),
        (LegKind::GoAround, 25.0, 1.1),
        (LegKind::Landing, 20.0, 1.0),
    ]);
    assert!(straight < 1000.0 && with_go_around > 1000.0, "{straight} to {with_go_around} mAh");
}

// Common practice, no source: two parallel strings are flown so that either alone can bring the aircraft down.
#[test]
fn common_practice_either_string_brings_it_down() {
    let half = LossMoment::OnSetShare(Ratio::new::<ratio>(0.5));
    for lost in [0, 1] {
        for when in [LossMoment::TakeOff, half, LossMoment::TurnBack] {
            let settings = FlightSettings::default();
            let loss = string_lost(&two_strings(), &close_by(HOVER_W), &reserve(0.2), &settings, lost, when);
            let loss = loss.expect("in range").expect("flies");
            assert_eq!(loss.outcome, LossOutcome::CarriesAlone, "{when:?}");
            assert!(loss.down_within > loss.way_down, "{when:?}: {loss:?}");
            assert_eq!(loss.loads.len(), 1);
            assert_eq!(loss.loads[0].string, 1 - lost);
        }
    }
}

#[test]
fn a_lost_string_says_what_fails_first() {
    let old = pack(12.0, 8.0);
    let mut weak_rating = pack(12.0, 1.5);
    weak_rating.continuous_c_rating = Ratio::new::<ratio>(7.0);
    let cases = [
        (supply(&[pack(12.0, 1.5)]), FirstFailure::NoStringLeft),
        (supply(&[old, old]), FirstFailure::LoadedCellFloor),
        (supply(&[weak_rating, weak_rating]), FirstFailure::CRating),
        (supply(&[pack(12.0, 24.0), pack(12.0, 1.0)]), FirstFailure::VoltageCollapse),
    ];
    for (supply, first) in cases {
        let lost = supply.strings.len() - 1;
        let settings = FlightSettings::default();
        let loss =
            string_lost(&supply, &close_by(HOVER_W), &reserve(0.2), &settings, lost, LossMoment::TurnBack);
        let loss = loss.expect("in range").expect("flies");
        assert_eq!(loss.outcome, LossOutcome::FailsFirst(first), "{loss:?}");
    }
}

// Common practice, no source: with a meter that shows 5 % too much, every mark is 5 % higher; other meters keep theirs.
#[test]
fn common_practice_meter_error_scales_the_marks() {
    let mut biased = two_strings();
    biased.meter.place = MeterPlace::String(1);
    biased.meter.scale_error = Ratio::new::<ratio>(0.05);
    let flight = flown(&biased, &close_by(HOVER_W), 0.2);
    let land_by: Vec<f64> =
        flight.marks_by_meter.iter().map(|m| m.land_by.get::<milliampere_hour>()).collect();
    for (got, want) in land_by.iter().zip([19_200.0, 9_600.0, 10_080.0]) {
        assert_close(*got, want, 1e-4, "land-by");
    }
    assert_eq!(flight.marks, flight.marks_by_meter[2]);
}

// From the open-circuit table: packs at 3.9089 V a cell hold 70 % (Ai et al. 2020), so half of the capacity may be used.
#[test]
fn val_ai2020_flight_from_a_rest_voltage() {
    let mut used = pack(12.0, 1.5);
    used.rest_voltage = Some(ElectricPotential::new::<volt>(12.0 * 3.9089));
    let flight = flown(&supply(&[used, used]), &close_by(HOVER_W), 0.2);
    assert_close(flight.marks.land_by.get::<milliampere_hour>(), 12_000.0, 1e-4, "land-by");
}

#[test]
fn the_floor_ends_the_flight_at_the_floor() {
    let tired = pack(12.0, 6.0);
    let flight = flown(&supply(&[tired, tired]), &close_by(HOVER_W), 0.2);
    assert_eq!(flight.limit, FlightLimit::LoadedCellFloor);
    // 0.1 s at the floor's slope of some 1 mV a second.
    assert_close(flight.extremes.cell_voltage.get::<volt>(), 3.3, 1e-4, "lowest cell voltage");
}

#[test]
fn the_strictest_reserve_rules() {
    let base = reserve(0.2);
    let of = |charge_ah: Option<f64>, time_min: Option<f64>| {
        let mut policy = base;
        policy.charge = charge_ah.map(ElectricCharge::new::<ampere_hour>);
        policy.time = time_min.map(Time::new::<minute>);
        fly(&two_strings(), &close_by(HOVER_W), &policy).expect("in range").expect("flies")
    };
    assert_eq!(of(Some(2.0), Some(1.0)).limit, FlightLimit::ReserveShare);
    let by_charge = of(Some(3.0), None);
    assert_eq!(by_charge.limit, FlightLimit::ReserveCharge);
    assert_close(by_charge.marks.land_by.get::<milliampere_hour>(), 18_000.0, 1e-4, "land-by");
    let by_time = of(None, Some(4.0));
    assert_eq!(by_time.limit, FlightLimit::ReserveTime);
    // What is left is hovered away in the four minutes: power × time over the voltage near empty, within its sag.
    let left_ah = 24.0 - by_time.marks.land_by.get::<ampere_hour>();
    let needed_ah = (1.05 * HOVER_W + 60.0 / 0.9) * 240.0 / 3600.0 / (12.0 * 3.5);
    assert_close(left_ah, needed_ah, 0.06, "left for the reserve time");
}

#[test]
fn too_much_power_is_a_named_collapse() {
    let mut demand = close_by(HOVER_W);
    demand.homebound[2].power = Power::new::<watt>(90_000.0);
    let none = fly(&two_strings(), &demand, &reserve(0.2)).expect("in range").expect_err("collapses");
    let NoFlight::VoltageCollapse { leg, asked, greatest } = none else { panic!("{none:?}") };
    assert_eq!(leg, LegKind::GoAround);
    assert!(asked > greatest && greatest.get::<watt>() > 10_000.0, "{asked:?} {greatest:?}");
}

#[test]
fn too_little_charge_names_limit_and_moment() {
    let mut empty = pack(12.0, 1.5);
    empty.rest_voltage = Some(ElectricPotential::new::<volt>(12.0 * 3.70));
    let none = fly(&supply(&[empty, empty]), &close_by(HOVER_W), &reserve(0.2)).expect("in range");
    let NoFlight::TooLittleCharge { limit, at } = none.expect_err("too little") else { panic!("collapse") };
    assert_eq!(limit, FlightLimit::ReserveShare);
    // 3.70 V is 20.9 % of charge: 0.9 % of 86,400 C, first warm-up at a tenth, then climb at about 112 A.
    assert!(at.get::<second>() > 20.0 && at.get::<second>() < 30.0, "{at:?}");
}

// Energy balance, circuit laws: what the curves give up is at the load or heat, 0.1 %.
#[test]
fn energy_is_balanced_over_a_flight() {
    let (fresh, mut old) = (pack(12.0, 1.5), pack(11.0, 4.0));
    old.temperature = ThermodynamicTemperature::new::<degree_celsius>(5.0);
    old.rest_voltage = Some(ElectricPotential::new::<volt>(12.0 * 4.1));
    for supply in [two_strings(), supply(&[fresh, old])] {
        let settings = FlightSettings::default();
        let balance = energy_balance(&supply, &close_by(HOVER_W), &reserve(0.2), &settings);
        let balance = balance.expect("in range").expect("flies");
        let spent = balance.delivered + balance.cell_heat + balance.lead_heat;
        assert_close(spent.get::<joule>(), balance.from_curves.get::<joule>(), 1e-3, "energy");
        assert!(balance.cell_heat.get::<joule>() > 0.01 * balance.from_curves.get::<joule>());
    }
}

#[test]
fn halved_steps_change_land_by_little() {
    let tired = pack(12.0, 6.0);
    let finer = FlightSettings { refinement: Ratio::new::<ratio>(2.0), ..FlightSettings::default() };
    for supply in [two_strings(), supply(&[tired, tired]), supply(&[pack(12.0, 2.0), pack(9.0, 5.0)])] {
        let usual = flown(&supply, &close_by(HOVER_W), 0.2);
        let fine =
            fly_with(&supply, &close_by(HOVER_W), &reserve(0.2), &finer).expect("in range").expect("flies");
        let change = usual.marks.land_by / fine.marks.land_by;
        assert_close(change.get::<ratio>(), 1.0, 1e-3, "land-by");
        assert_close((usual.flight_time / fine.flight_time).get::<ratio>(), 1.0, 1e-3, "flight time");
    }
}

#[test]
fn warming_cold_packs_gains_time() {
    let mut cold = pack(12.0, 1.5);
    cold.temperature = ThermodynamicTemperature::new::<degree_celsius>(-5.0);
    let settings = FlightSettings::default();
    let to = ThermodynamicTemperature::new::<degree_celsius>(25.0);
    let gain_of = |supply: &Supply| {
        warm_pack_gain(supply, &close_by(HOVER_W), &reserve(0.2), &settings, to).expect("in range").gained
    };
    let gained = gain_of(&supply(&[cold, cold]));
    assert!(gained.get::<minute>() > 1.0 && gained.get::<minute>() < 5.0, "{gained:?}");
    assert!(gain_of(&two_strings()).get::<second>().abs() < 0.01);
}

#[test]
fn samples_run_without_gap_from_start_to_end() {
    let flight = flown(&two_strings(), &close_by(HOVER_W), 0.2);
    let first = flight.samples.first().expect("a first");
    let last = flight.samples.last().expect("a last");
    assert!(first.time.get::<second>().abs() < 1e-9);
    assert_close(last.time.get::<second>(), flight.land_by_at.get::<second>(), 1e-9, "end");
    for pair in flight.samples.windows(2) {
        let gap_s = (pair[1].time - pair[0].time).get::<second>();
        assert!((0.0..=10.0).contains(&gap_s), "{gap_s} s at {:?}", pair[0].time);
    }
    assert!(last.strings[0].temperature > first.strings[0].temperature);
    let brief = fly_brief(&two_strings(), &close_by(HOVER_W), &reserve(0.2), &FlightSettings::default());
    assert_eq!(brief.expect("in range").expect("flies").flight_time, flight.flight_time);
}

#[test]
fn flight_refusals_name_the_field() {
    let mut endless = close_by(HOVER_W);
    endless.on_set = Power::new::<watt>(0.0);
    let mut wrong_leg = close_by(HOVER_W);
    wrong_leg.outbound[0].duration = Time::new::<second>(f64::NAN);
    let mut low = reserve(0.2);
    low.loaded_cell_floor = ElectricPotential::new::<volt>(1.0);
    let mut thick = two_strings();
    thick.string_resistance = ElectricalResistance::new::<milliohm>(1e6);
    let good = (two_strings(), close_by(HOVER_W), reserve(0.2));
    let refused = [
        (fly(&good.0, &endless, &good.2), "on_set_power"),
        (fly(&good.0, &wrong_leg, &good.2), "leg_duration"),
        (fly(&good.0, &good.1, &low), "loaded_cell_floor"),
        (fly(&good.0, &good.1, &reserve(0.95)), "reserve_share"),
        (fly(&thick, &good.1, &good.2), "lead_resistance"),
    ];
    for (result, field) in refused {
        assert_eq!(result.expect_err("refused").field(), field);
    }
}
