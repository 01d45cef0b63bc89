//! How long the propulsion unit's questions take, natively.

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use liftmargin_core::motor::{ControllerParams, MotorParams};
use liftmargin_core::propulsion::{
    BenchRow, BenchTable, CoaxialParams, Declared, Evidence, PropulsionUnit, ceiling, fit, operate,
    operate_pair, pair_ceiling,
};
use liftmargin_core::rotor::{Flow, RotorParams};
use liftmargin_core::units::{
    AngularVelocity, ElectricCurrent, ElectricPotential, ElectricalResistance, Force, Length, MassDensity,
    Ratio, Velocity, VelocityConstant,
};
use uom::si::angular_velocity::radian_per_second;
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::ohm;
use uom::si::force::newton;
use uom::si::length::meter;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::ratio::ratio;
use uom::si::velocity::meter_per_second;

fn unit() -> PropulsionUnit {
    let share = Ratio::new::<ratio>;
    let amps = ElectricCurrent::new::<ampere>;
    PropulsionUnit {
        rotor: RotorParams {
            diameter: Length::new::<meter>(0.726),
            thrust_coefficient: share(0.098),
            power_coefficient: share(0.0385),
            reference_speed: AngularVelocity::new::<radian_per_second>(320.0),
            power_speed_exponent: share(-0.15),
            pitch_inflow: RotorParams::usual_pitch_inflow(),
        },
        motor: MotorParams {
            velocity_constant: VelocityConstant::from_rpm_per_volt(105.0),
            resistance: ElectricalResistance::new::<ohm>(0.055),
            no_load_current: amps(0.9),
            current_limit: amps(80.0),
        },
        controller: ControllerParams { efficiency: share(0.97), current_limit: amps(80.0) },
        evidence: Evidence::Bench {
            rows: 9,
            mean_power_error: share(0.15),
            with_speed: true,
            greatest_thrust: Force::new::<newton>(5000.0),
            other_rotor: None,
        },
    }
}

fn table(unit: &PropulsionUnit, rows: usize) -> BenchTable {
    let air_density = MassDensity::new::<kilogram_per_cubic_meter>(1.19);
    let voltage = ElectricPotential::new::<volt>(44.4);
    let most = ceiling(unit, air_density, voltage, &Flow::still(), None).expect("a ceiling").point.thrust;
    let row = |k: usize| {
        let wobble = 1.0 + 0.01 * (k as f64 * 2.4).sin();
        let thrust = most * (k as f64 / rows as f64);
        let point = operate(unit, air_density, thrust, &Flow::still()).expect("a point");
        BenchRow {
            throttle: Some(Ratio::new::<ratio>(k as f64 / rows as f64)),
            voltage,
            current: point.bus_power / voltage * wobble,
            thrust,
            speed: Some(point.speed * (2.0 - wobble)),
        }
    };
    BenchTable { rows: (1..=rows).map(row).collect(), air_density }
}

fn propulsion(c: &mut Criterion) {
    let unit = unit();
    let air = MassDensity::new::<kilogram_per_cubic_meter>(1.0);
    let bus = ElectricPotential::new::<volt>(44.4);
    let thrust = Force::new::<newton>(60.0);
    let transit = Flow {
        axial: Velocity::new::<meter_per_second>(2.0),
        edgewise: Velocity::new::<meter_per_second>(12.0),
    };
    let coaxial = CoaxialParams { spacing: Length::new::<meter>(0.12) };
    for (name, flow) in [("still", Flow::still()), ("transit", transit)] {
        c.bench_function(&format!("operate, {name}"), |b| {
            b.iter(|| operate(black_box(&unit), air, thrust, black_box(&flow)));
        });
        c.bench_function(&format!("ceiling, {name}"), |b| {
            b.iter(|| ceiling(black_box(&unit), air, bus, black_box(&flow), None));
        });
        c.bench_function(&format!("operate pair, {name}"), |b| {
            b.iter(|| operate_pair(black_box(&unit), &coaxial, air, thrust, thrust, black_box(&flow)));
        });
        c.bench_function(&format!("pair ceiling, {name}"), |b| {
            b.iter(|| pair_ceiling(black_box(&unit), &coaxial, air, bus, black_box(&flow), None));
        });
    }
    let declared = Declared {
        diameter: unit.rotor.diameter,
        pitch: None,
        velocity_constant: Some(unit.motor.velocity_constant),
        resistance: None,
        no_load_current: None,
        motor_current_limit: unit.motor.current_limit,
        controller_current_limit: unit.controller.current_limit,
    };
    let table = table(&unit, 20);
    c.bench_function("fit of 20 rows", |b| b.iter(|| fit(black_box(&table), black_box(&declared))));
}

criterion_group!(benches, propulsion);
criterion_main!(benches);
