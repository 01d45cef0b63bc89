//! Propulsion units: operating points, ceilings, pairs and estimates.

use liftmargin_core::motor::{ControllerParams, MotorParams};
use liftmargin_core::propulsion::{
    CoaxialParams, Declared, Evidence, PairRule, PropulsionUnit, ThrustLimit, ceiling, curve, estimate,
    operate, operate_pair, pair_ceiling, performance, split_pair,
};
use liftmargin_core::rotor::{Flow, RotorParams};
use liftmargin_core::units::{
    AngularVelocity, ElectricCurrent, ElectricPotential, ElectricalResistance, Force, Length, MassDensity,
    Ratio, Velocity, VelocityConstant,
};
use proptest::prelude::*;
use uom::si::angular_velocity::radian_per_second;
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::ohm;
use uom::si::force::newton;
use uom::si::length::meter;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::ratio::ratio;
use uom::si::velocity::meter_per_second;

pub fn density(kg_m3: f64) -> MassDensity {
    MassDensity::new::<kilogram_per_cubic_meter>(kg_m3)
}
pub fn force(n: f64) -> Force {
    Force::new::<newton>(n)
}
pub fn volts(v: f64) -> ElectricPotential {
    ElectricPotential::new::<volt>(v)
}
pub fn amps(a: f64) -> ElectricCurrent {
    ElectricCurrent::new::<ampere>(a)
}
pub fn share(x: f64) -> Ratio {
    Ratio::new::<ratio>(x)
}

#[track_caller]
pub fn check(what: &str, got: f64, expected: f64, relative: f64) {
    assert!((got / expected - 1.0).abs() <= relative, "{what}: {got} instead of {expected}");
}

/// An invented unit of 28.6-inch rotors on about 44 V.
pub fn unit(exponent: f64) -> PropulsionUnit {
    PropulsionUnit {
        rotor: RotorParams {
            diameter: Length::new::<meter>(0.726),
            thrust_coefficient: share(0.072),
            power_coefficient: share(0.0215),
            reference_speed: AngularVelocity::new::<radian_per_second>(320.0),
            power_speed_exponent: share(exponent),
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
            greatest_thrust: force(5000.0),
            other_rotor: None,
        },
    }
}

pub fn declared(unit: &PropulsionUnit) -> Declared {
    Declared {
        diameter: unit.rotor.diameter,
        pitch: None,
        velocity_constant: Some(unit.motor.velocity_constant),
        resistance: None,
        no_load_current: None,
        motor_current_limit: unit.motor.current_limit,
        controller_current_limit: unit.controller.current_limit,
    }
}

#[test]
fn estimate_is_flagged_and_wide() {
    let mut stated = declared(&unit(0.0));
    stated.pitch = Some(Length::new::<meter>(0.25));
    let estimated = estimate(&stated).unwrap();
    // At least what the public bench data show across makes: ±11 %.
    assert!(matches!(estimated.evidence, Evidence::Estimate { .. }));
    assert!(estimated.evidence.power_spread().value >= 0.11);
    let most = ceiling(&estimated, density(1.1), volts(44.4), &Flow::still(), None).unwrap();
    assert!(most.point.thrust.value > 20.0, "{most:?}");
    stated.velocity_constant = None;
    assert_eq!(estimate(&stated).unwrap_err().field(), "velocity_constant");
}

#[test]
fn lower_rotor_of_a_pair_works_harder() {
    let (unit, coaxial, air) =
        (unit(-0.15), CoaxialParams { spacing: Length::new::<meter>(0.12) }, density(1.0));
    let total = force(120.0);
    for rule in [PairRule::EqualThrust, PairRule::BalancedTorque, PairRule::EqualDuty] {
        let (upper, lower) = split_pair(&unit, &coaxial, air, total, &Flow::still(), rule).unwrap();
        check("total", (upper + lower).value, 120.0, 1e-12);
        let (above, below) = operate_pair(&unit, &coaxial, air, upper, lower, &Flow::still()).unwrap();
        match rule {
            PairRule::EqualThrust => {
                assert!(below.motor_voltage > above.motor_voltage && below.bus_power > above.bus_power);
            }
            PairRule::BalancedTorque => check("torque", below.torque.value, above.torque.value, 1e-8),
            PairRule::EqualDuty => check("duty", below.motor_voltage.value, above.motor_voltage.value, 1e-8),
        }
    }
    let (upper, lower) = pair_ceiling(&unit, &coaxial, air, volts(44.4), &Flow::still(), None).unwrap();
    assert!(lower.point.thrust < upper.point.thrust);
}

#[test]
fn too_little_voltage_or_current_is_a_typed_cannot() {
    let mut weak = unit(0.0);
    weak.motor.no_load_current = amps(19.0);
    weak.motor.resistance = ElectricalResistance::new::<ohm>(1.0);
    let refusal = ceiling(&weak, density(1.0), volts(15.0), &Flow::still(), None).unwrap_err();
    assert_eq!(refusal.field(), "bus_voltage");
    weak.motor.current_limit = amps(15.0);
    let refusal = ceiling(&weak, density(1.0), volts(50.0), &Flow::still(), None).unwrap_err();
    assert_eq!(refusal.field(), "motor_current_limit");
}

#[test]
fn curve_ends_at_the_ceiling() {
    let curve = curve(&unit(-0.2), density(0.95), volts(40.0), 24).unwrap();
    assert_eq!(curve.len(), 24);
    assert!(
        curve
            .windows(2)
            .all(|pair| pair[1].point.bus_power > pair[0].point.bus_power && pair[1].duty > pair[0].duty)
    );
    check("last duty", curve[23].duty.value, 1.0, 1e-6);
}

#[test]
fn performance_says_what_operate_says_and_how_far_off() {
    let (still, climb) = (Flow::still(), Flow::climb(Velocity::new::<meter_per_second>(3.0)));
    let measured = unit(-0.2);
    let estimated = estimate(&declared(&measured)).unwrap();
    for unit in [measured, estimated] {
        let at = |flow: &Flow| performance(&unit, density(1.1), force(60.0), flow, volts(44.4)).unwrap();
        let point = operate(&unit, density(1.1), force(60.0), &still).unwrap();
        let most = ceiling(&unit, density(1.1), volts(44.4), &still, None).unwrap();
        let (here, rising) = (at(&still), at(&climb));
        assert_eq!((here.bus_power.value, here.speed.value), (point.bus_power, point.speed));
        assert_eq!((here.greatest_thrust.value, here.ruled_by), (most.point.thrust, most.ruled_by));
        check("throttle", here.throttle.value.value, point.motor_voltage.value / 44.4, 1e-12);
        assert!(rising.bus_power.spread > here.bus_power.spread && rising.speed.spread > here.speed.spread);
    }
    let spread = |unit: &PropulsionUnit| {
        performance(unit, density(1.1), force(60.0), &still, volts(44.4)).unwrap().greatest_thrust.spread
    };
    assert!(spread(&estimated) > spread(&measured));
}

fn flows() -> impl Strategy<Value = Flow> {
    (-3.0..8.0_f64, 0.0..20.0_f64).prop_map(|(axial, edgewise)| Flow {
        axial: Velocity::new::<meter_per_second>(axial),
        edgewise: Velocity::new::<meter_per_second>(edgewise),
    })
}

fn any_units() -> impl Strategy<Value = PropulsionUnit> {
    let rotor = (0.05..2.0_f64, 0.01..0.3_f64, 0.002..0.3_f64, 1.0..10_000.0_f64, -0.5..0.3_f64);
    let motor =
        (2.09..524.0_f64, 0.001..2.0_f64, 0.0..20.0_f64, 1.0..500.0_f64, 0.8..1.0_f64, 1.0..500.0_f64);
    (rotor, motor).prop_map(
        |((diameter, ct, cp, reference, exponent), (kv, r, idle, limit, efficiency, controller))| {
            PropulsionUnit {
                rotor: RotorParams {
                    diameter: Length::new::<meter>(diameter),
                    thrust_coefficient: share(ct),
                    power_coefficient: share(cp),
                    reference_speed: AngularVelocity::new::<radian_per_second>(reference),
                    power_speed_exponent: share(exponent),
                    pitch_inflow: RotorParams::usual_pitch_inflow(),
                },
                motor: MotorParams {
                    velocity_constant: VelocityConstant::from_rad_s_v(kv),
                    resistance: ElectricalResistance::new::<ohm>(r),
                    no_load_current: amps(idle),
                    current_limit: amps(limit),
                },
                controller: ControllerParams {
                    efficiency: share(efficiency),
                    current_limit: amps(controller),
                },
                evidence: Evidence::Bench {
                    rows: 9,
                    mean_power_error: share(0.15),
                    with_speed: true,
                    greatest_thrust: force(5000.0),
                    other_rotor: None,
                },
            }
        },
    )
}

proptest! {
    #[test]
    fn prop_thinner_air_and_more_thrust_need_more_power(
        thrust in 5.0..150.0_f64, more in 1.001..1.5_f64, kg_m3 in 0.7..1.3_f64, flow in flows(), exponent in -0.3..0.0_f64,
    ) {
        let unit = unit(exponent);
        let still = Flow::still();
        let at = |thrust: f64, kg_m3: f64, flow: &Flow| operate(&unit, density(kg_m3), force(thrust), flow);
        let here = at(thrust, kg_m3, &still).unwrap();
        let thin = at(thrust, kg_m3 / more, &still).unwrap();
        prop_assert!(thin.bus_power > here.bus_power && thin.motor_voltage > here.motor_voltage);
        if let (Ok(here), Ok(heavy)) = (at(thrust, kg_m3, &flow), at(thrust * more, kg_m3, &flow)) {
            prop_assert!(heavy.bus_power > here.bus_power, "{here:?} {heavy:?}");
        }
    }

    #[test]
    fn prop_ceiling_keeps_every_limit_and_reaches_one(
        bus in 20.0..60.0_f64, limit in 5.0..80.0_f64, kg_m3 in 0.6..1.3_f64, flow in flows(),
    ) {
        let mut unit = unit(-0.15);
        unit.controller.current_limit = amps(limit);
        if let Ok(most) = ceiling(&unit, density(kg_m3), volts(bus), &flow, None) {
            let (duty, current) = (most.point.duty(volts(bus)).value, most.point.motor_current.value);
            prop_assert!(duty <= 1.0 && current <= limit, "{most:?}");
            match most.ruled_by {
                ThrustLimit::BusVoltage => prop_assert!(duty > 1.0 - 1e-6),
                ThrustLimit::ControllerCurrent => prop_assert!(current > limit * (1.0 - 1e-6)),
                ThrustLimit::MotorCurrent => prop_assert!(limit >= 80.0),
                ThrustLimit::BenchTable => prop_assert!(false, "{most:?}"),
            }
            let beyond = operate(&unit, density(kg_m3), most.point.thrust * 1.001, &flow).unwrap();
            prop_assert!(beyond.duty(volts(bus)).value > 1.0 || beyond.motor_current.value > limit);
        }
    }

    /// Over the whole of the documented ranges: figures or a refusal, no NaN, no panic.
    #[test]
    fn prop_no_nan(
        unit in any_units(), kg_m3 in 0.4..1.8_f64, thrust in 0.0..5000.0_f64, bus in 2.0..150.0_f64,
        axial in -30.0..60.0_f64, edgewise in -80.0..80.0_f64, spacing in 0.0..2.0_f64,
    ) {
        let flow = Flow {
            axial: Velocity::new::<meter_per_second>(axial),
            edgewise: Velocity::new::<meter_per_second>(edgewise),
        };
        let coaxial = CoaxialParams { spacing: Length::new::<meter>(spacing) };
        for flow in [Flow::still(), flow] {
            let mut points = Vec::new();
            points.extend(operate(&unit, density(kg_m3), force(thrust), &flow));
            points.extend(ceiling(&unit, density(kg_m3), volts(bus), &flow, None).map(|most| most.point));
            if let Ok((upper, lower)) = pair_ceiling(&unit, &coaxial, density(kg_m3), volts(bus), &flow, None) {
                points.extend([upper.point, lower.point]);
            }
            if let Ok((upper, lower)) = split_pair(&unit, &coaxial, density(kg_m3), force(thrust), &flow, PairRule::BalancedTorque)
                && let Ok((upper, lower)) = operate_pair(&unit, &coaxial, density(kg_m3), upper, lower, &flow)
            {
                points.extend([upper, lower]);
            }
            for point in points {
                for value in [
                    point.thrust.value, point.speed.value, point.torque.value, point.shaft_power.value,
                    point.motor_voltage.value, point.motor_current.value, point.bus_power.value,
                ] {
                    prop_assert!(value.is_finite() && value >= 0.0, "{point:?}");
                }
            }
        }
    }

}
