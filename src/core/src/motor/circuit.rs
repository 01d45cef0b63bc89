//! Motor and speed controller at a torque and a speed.
//!
//! i = Q k_V + I_0; v = ω/k_V + i R; bus power = v i / η. Duty = v over the bus voltage. SI, k_V in rad/s/V.
//! Source: Drela, First-Order DC Electric Motor Model, MIT, 2007 (formulas from memory; the same relations stand in an
//! MIT-derived open model). The controller's loss as a share of its input: common practice, no source.
//! Valid: steady running, motoring (torque not negative). Assumes I_0 and R that do not change with speed or heat.

use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::power::watt;
use uom::si::ratio::ratio;

use crate::input_error::InputError;
use crate::input_range::{InputRange, Kind};
use crate::motor::params::{ControllerParams, MotorParams};
use crate::units::{AngularVelocity, ElectricCurrent, ElectricPotential, Power, Ratio, Torque};

/// Shaft speed: 0 to 10,000 rad/s.
static SPEED: InputRange = InputRange::new("rotor_speed", Kind::RotationalSpeed, 0.0, 10_000.0);
/// Shaft torque in N·m: 0 to 1,000, motoring only.
static TORQUE: InputRange = InputRange::new("shaft_torque", Kind::Number, 0.0, 1000.0);

/// A motor and its controller at work.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MotorPoint {
    /// Voltage across the motor.
    pub voltage: ElectricPotential,
    /// Motor-side current.
    pub current: ElectricCurrent,
    /// Shaft power.
    pub shaft_power: Power,
    /// Power into the motor.
    pub motor_power: Power,
    /// Power drawn from the bus, the controller's loss included.
    pub bus_power: Power,
    /// Shaft power over motor power; zero at standstill.
    pub efficiency: Ratio,
}

/// The motor at a shaft torque and speed: see the module.
///
/// # Errors
/// `InputError::OutOfRange` for a parameter, torque or speed outside its bound.
pub fn drive(
    motor: &MotorParams,
    controller: &ControllerParams,
    torque: Torque,
    speed: AngularVelocity,
) -> Result<MotorPoint, InputError> {
    let kernel = MotorKernel::new(motor, controller)?;
    let torque_n_m = TORQUE.check(torque.value)?;
    let speed_rad_s = SPEED.check(speed.value)?;
    let at = kernel.drive(torque_n_m, speed_rad_s);
    let (shaft_w, motor_w) = (torque_n_m * speed_rad_s, at.voltage_v * at.current_a);
    Ok(MotorPoint {
        voltage: ElectricPotential::new::<volt>(at.voltage_v),
        current: ElectricCurrent::new::<ampere>(at.current_a),
        shaft_power: Power::new::<watt>(shaft_w),
        motor_power: Power::new::<watt>(motor_w),
        bus_power: Power::new::<watt>(at.bus_w),
        efficiency: Ratio::new::<ratio>(if motor_w > 0.0 { shaft_w / motor_w } else { 0.0 }),
    })
}

/// A motor and controller with their parameters checked.
#[derive(Debug, Clone, Copy)]
pub(crate) struct MotorKernel {
    pub velocity_constant: f64,
    pub resistance_ohm: f64,
    pub no_load_a: f64,
    pub efficiency: f64,
    pub motor_limit_a: f64,
    pub controller_limit_a: f64,
}

/// Voltage, current and bus power of one motor.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Drive {
    pub voltage_v: f64,
    pub current_a: f64,
    pub bus_w: f64,
}

impl MotorKernel {
    pub(crate) fn new(motor: &MotorParams, controller: &ControllerParams) -> Result<Self, InputError> {
        Ok(Self {
            velocity_constant: MotorParams::VELOCITY_CONSTANT.check(motor.velocity_constant.rad_s_v())?,
            resistance_ohm: MotorParams::RESISTANCE.check(motor.resistance.value)?,
            no_load_a: MotorParams::NO_LOAD_CURRENT.check(motor.no_load_current.value)?,
            efficiency: ControllerParams::EFFICIENCY.check(controller.efficiency.value)?,
            motor_limit_a: MotorParams::CURRENT_LIMIT.check(motor.current_limit.value)?,
            controller_limit_a: ControllerParams::CURRENT_LIMIT.check(controller.current_limit.value)?,
        })
    }

    pub(crate) fn drive(&self, torque_n_m: f64, speed_rad_s: f64) -> Drive {
        let current_a = torque_n_m * self.velocity_constant + self.no_load_a;
        let voltage_v = speed_rad_s / self.velocity_constant + current_a * self.resistance_ohm;
        Drive { voltage_v, current_a, bus_w: voltage_v * current_a / self.efficiency }
    }
}
