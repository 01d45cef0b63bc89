//! Motor against the first-order direct-current model.

use liftmargin_core::motor::{ControllerParams, MotorParams, drive};
use liftmargin_core::units::{
    AngularVelocity, ElectricCurrent, ElectricalResistance, Ratio, Torque, VelocityConstant,
};
use uom::si::angular_velocity::revolution_per_minute;
use uom::si::electric_current::ampere;
use uom::si::electrical_resistance::ohm;
use uom::si::ratio::ratio;
use uom::si::torque::newton_meter;

#[track_caller]
fn check(what: &str, got: f64, expected: f64, relative: f64) {
    assert!((got / expected - 1.0).abs() <= relative, "{what}: {got} instead of {expected}");
}

/// Formula check with own numbers, computed independently (Python 3.11.7) from i = (v − ω/k_V)/R, Q = (i − I_0)/k_V; formulas of
/// Drela, First-Order DC Electric Motor Model, MIT 2007, from memory. 44.4 V, 170 rpm/V, 30 mΩ, 1.5 A.
#[test]
fn val_drela_motor_equations() {
    let motor = MotorParams {
        velocity_constant: VelocityConstant::from_rpm_per_volt(170.0),
        resistance: ElectricalResistance::new::<ohm>(0.030),
        no_load_current: ElectricCurrent::new::<ampere>(1.5),
        current_limit: ElectricCurrent::new::<ampere>(300.0),
    };
    let controller = ControllerParams {
        efficiency: Ratio::new::<ratio>(1.0),
        current_limit: ElectricCurrent::new::<ampere>(300.0),
    };
    // rpm, current A, torque N·m, shaft W, electrical W, efficiency; rounded to the digits shown
    let table = [
        (6500.0, 205.4902, 11.458_605, 7_799.625, 9_123.765, 0.854_869),
        (7200.0, 68.2353, 3.748_677, 2_826.436, 3_029.647, 0.932_926),
    ];
    for (rpm, current, torque, shaft, electrical, efficiency) in table {
        let at = drive(
            &motor,
            &controller,
            Torque::new::<newton_meter>(torque),
            AngularVelocity::new::<revolution_per_minute>(rpm),
        )
        .unwrap();
        check("voltage", at.voltage.value, 44.4, 1e-6);
        check("current", at.current.value, current, 1e-6);
        check("shaft power", at.shaft_power.value, shaft, 1e-6);
        check("motor power", at.motor_power.value, electrical, 1e-6);
        check("bus power", at.bus_power.value, electrical, 1e-6);
        check("efficiency", at.efficiency.value, efficiency, 2e-6);
    }
}
