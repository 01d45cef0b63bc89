//! A day's schedule, budget 2 ms for twelve hours, 24 sets and 12 chargers; the search for the fewest, 50 ms; matching 24 packs
//! into six strings, 50 ms.

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use liftmargin_core::cell::{CellParams, Chemistry};
use liftmargin_core::day::{ChargeStep, DayFlight, DayPlan, SetKind, schedule};
use liftmargin_core::flight::ReservePolicy;
use liftmargin_core::packs::{MatchTask, match_packs};
use liftmargin_core::supply::{Health, Pack};
use liftmargin_core::units::{
    ElectricCharge, ElectricPotential, ElectricalResistance, Energy, Mass, Power, Ratio,
    ThermodynamicTemperature, Time,
};
use uom::si::electric_charge::ampere_hour;
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::milliohm;
use uom::si::energy::watt_hour;
use uom::si::mass::kilogram;
use uom::si::power::watt;
use uom::si::ratio::ratio;
use uom::si::thermodynamic_temperature::degree_celsius;
use uom::si::time::{hour, minute};

/// Twelve hours of ten-minute flights by three kinds of sets, each charged for two hours and a half.
fn plan(sets: u32, chargers: u32) -> DayPlan {
    let minutes = Time::new::<minute>;
    let step = |duration, watts| ChargeStep { duration: minutes(duration), power: Power::new::<watt>(watts) };
    let flight = |index: usize| DayFlight {
        set: index % 3,
        earliest: Time::new::<hour>(6.0),
        duration: minutes(8.0 + (index % 5) as f64),
        charge: vec![step(110.0, 900.0), step(20.0, 600.0), step(20.0, 300.0)],
        charge_energy: Energy::new::<watt_hour>(1500.0),
    };
    DayPlan {
        start: Time::new::<hour>(6.0),
        wrap: Time::new::<hour>(18.0),
        turn_round: minutes(4.0),
        cool_down: minutes(20.0),
        warm_up: minutes(10.0),
        sets: vec![SetKind { count: sets / 3, available_from: Time::new::<hour>(6.0) }; 3],
        chargers,
        supply_limit: Some(Power::new::<watt>(9000.0)),
        flights: (0..60).map(flight).collect(),
    }
}

fn pack(index: usize) -> Pack {
    let at = index as f64;
    Pack {
        cell: CellParams {
            chemistry: Chemistry::LithiumPolymer,
            capacity: ElectricCharge::new::<ampere_hour>(12.0),
            resistance: ElectricalResistance::new::<milliohm>(1.5),
            resistance_spread: Ratio::new::<ratio>(0.0),
        },
        cells_in_series: 6,
        mass: Mass::new::<kilogram>(1.6),
        continuous_c_rating: Ratio::new::<ratio>(20.0),
        health: Health {
            cycles: 40,
            measured_capacity: Some(ElectricCharge::new::<ampere_hour>(11.0 + (at * 0.7).sin())),
            measured_cell_resistance: Some(ElectricalResistance::new::<milliohm>(2.0 + (at * 1.3).cos())),
        },
        rest_voltage: Some(ElectricPotential::new::<volt>(25.0 + 0.1 * (at * 2.1).sin())),
        temperature: ThermodynamicTemperature::new::<degree_celsius>(25.0),
    }
}

fn day(criterion: &mut Criterion) {
    let (enough, few) = (plan(24, 12), plan(9, 3));
    criterion.bench_function("day of 12 h, 24 sets, 12 chargers", |bencher| {
        bencher.iter(|| schedule(black_box(&enough)));
    });
    criterion.bench_function("day that stalls, with its fewest sets and chargers", |bencher| {
        bencher.iter(|| schedule(black_box(&few)));
    });
    let task = MatchTask {
        packs: (0..24).map(pack).collect(),
        strings: 6,
        series: 4,
        string_resistance: ElectricalResistance::new::<milliohm>(3.0),
        bus_resistance: ElectricalResistance::new::<milliohm>(1.0),
        power: Power::new::<watt>(8000.0),
        policy: ReservePolicy {
            share: Ratio::new::<ratio>(0.2),
            time: None,
            charge: None,
            loaded_cell_floor: ElectricPotential::new::<volt>(3.3),
        },
    };
    criterion.bench_function("match 24 packs into 6 strings", |bencher| {
        bencher.iter(|| match_packs(black_box(&task)));
    });
}

criterion_group!(benches, day);
criterion_main!(benches);
