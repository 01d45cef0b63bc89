//! A unit without a bench table: typical coefficients of measured rotors, flagged as such, with their spread.
//!
//! Formula   C_T and C_P by diameter and pitch: `typical`. R: a tenth of the motor's voltage lost at its current limit; I_0: a
//!           thirtieth of that limit; speed controller 0.90: common practice, no source, on the side of more power
//! Units     SI
//! Source    `classes`
//! Valid     0.2 ≤ p/D ≤ 1.1, or pitch unknown
//! Assumes   power at the bus is in doubt by 28 % beside the rotor's doubt: motor, controller and what an aircraft asks beyond a
//!           stand. So wide that the one aircraft of this size with open telemetry lies within one deviation (18 to 20 kg, four
//!           24-inch rotors: 3.5 to 4.1 kW; its mass is doubtful), where measured drives on a stand lie lower

mod classes;
mod typical;

use core::f64::consts::TAU;

pub(super) use typical::{Typical, typical};

use uom::si::angular_velocity::radian_per_second;
use uom::si::electric_current::ampere;
use uom::si::electrical_resistance::ohm;
use uom::si::ratio::ratio;

use crate::input_error::InputError;
use crate::input_error::UnitFault;
use crate::motor::{ControllerParams, MotorParams};
use crate::propulsion::params::{Declared, Evidence, PropulsionUnit};
use crate::rotor::RotorParams;
use crate::units::{AngularVelocity, ElectricCurrent, ElectricalResistance, Ratio};

/// Share of its input that a speed controller passes on near full load: common practice, no source.
pub(super) const TYPICAL_CONTROLLER_EFFICIENCY: f64 = 0.97;
/// The same where nothing is measured, at the part load of a hover.
const CAUTIOUS_CONTROLLER_EFFICIENCY: f64 = 0.90;
/// No-load current over the motor's limit.
const NO_LOAD_SHARE: f64 = 1.0 / 30.0;
/// One standard deviation of bus power at equal shaft power: motor, controller, and what an aircraft asks beyond a stand.
const MOTOR_SPREAD: f64 = 0.28;
/// Sea-level density at which the motor's limit is turned into a speed, kg/m³.
const SEA_LEVEL_DENSITY: f64 = 1.225;

/// A unit by what the makers declare alone: see the module.
///
/// # Errors
/// `InputError::Unit` where k_V is not given; `InputError::OutOfRange` for a figure, or an estimated resistance or no-load
/// current, outside its bound.
pub fn estimate(declared: &Declared) -> Result<PropulsionUnit, InputError> {
    let missing = InputError::Unit(UnitFault::Missing { field: MotorParams::VELOCITY_CONSTANT.field });
    let velocity_constant = declared.velocity_constant.ok_or(missing)?;
    let diameter_m = RotorParams::DIAMETER.check(declared.diameter.value)?;
    let kv = MotorParams::VELOCITY_CONSTANT.check(velocity_constant.rad_s_v())?;
    let motor_limit_a = MotorParams::CURRENT_LIMIT.check(declared.motor_current_limit.value)?;
    ControllerParams::CURRENT_LIMIT.check(declared.controller_current_limit.value)?;
    let Typical { thrust_coefficient, power_coefficient, thrust_spread, shaft_power_spread } =
        typical(declared)?;

    let no_load_a = declared.no_load_current.map_or(motor_limit_a * NO_LOAD_SHARE, |current| current.value);
    let torque_n_m = (motor_limit_a - no_load_a) / kv;
    let limit_rev_s =
        (torque_n_m.max(0.0) * TAU / (power_coefficient * SEA_LEVEL_DENSITY * diameter_m.powi(5))).sqrt();
    // A tenth of v = ω/k_V + iR lost in R means iR is a ninth of ω/k_V.
    let resistance_ohm =
        declared.resistance.map_or(TAU * limit_rev_s / (9.0 * kv * motor_limit_a), |given| given.value);

    Ok(PropulsionUnit {
        rotor: RotorParams {
            diameter: declared.diameter,
            thrust_coefficient: Ratio::new::<ratio>(thrust_coefficient),
            power_coefficient: Ratio::new::<ratio>(power_coefficient),
            reference_speed: AngularVelocity::new::<radian_per_second>(
                (TAU * limit_rev_s).clamp(1.0, 10_000.0),
            ),
            power_speed_exponent: Ratio::new::<ratio>(0.0),
            pitch_inflow: declared.pitch_inflow(Ratio::new::<ratio>(thrust_coefficient)),
        },
        motor: MotorParams {
            velocity_constant,
            resistance: ElectricalResistance::new::<ohm>(MotorParams::RESISTANCE.check(resistance_ohm)?),
            no_load_current: ElectricCurrent::new::<ampere>(MotorParams::NO_LOAD_CURRENT.check(no_load_a)?),
            current_limit: declared.motor_current_limit,
        },
        controller: ControllerParams {
            efficiency: Ratio::new::<ratio>(CAUTIOUS_CONTROLLER_EFFICIENCY),
            current_limit: declared.controller_current_limit,
        },
        evidence: Evidence::Estimate {
            thrust_spread: Ratio::new::<ratio>(thrust_spread),
            shaft_power_spread: Ratio::new::<ratio>(shaft_power_spread),
            power_spread: Ratio::new::<ratio>(shaft_power_spread.hypot(MOTOR_SPREAD)),
        },
    })
}
