//! A unit without a bench table: typical coefficients, flagged as such.
//!
//! C_T = 0.065 + 0.10 p/D, C_P = 0.010 + 0.085 p/D: lines through the order of magnitude of published static data of
//! propellers of 9 to 11 inches (C_T 0.09 to 0.13, C_P 0.035 to 0.055, UIUC propeller database, from memory, low
//! confidence). Valid 0.2 ≤ p/D ≤ 0.8. Across makes a constant figure of merit predicts shaft power to about ±11 %
//! (own study of open data); with the motor's unknowns ±15 % is claimed, ±18 % where the pitch is unknown too.
//! R: a tenth of the motor's voltage lost at its current limit; I_0: a fiftieth of that limit: common practice, no source.

use core::f64::consts::TAU;

use uom::si::angular_velocity::radian_per_second;
use uom::si::electric_current::ampere;
use uom::si::electrical_resistance::ohm;
use uom::si::ratio::ratio;

use crate::input_error::InputError;
use crate::input_error::UnitFault;
use crate::input_range::{InputRange, Kind};
use crate::motor::{ControllerParams, MotorParams};
use crate::propulsion::params::{Declared, Evidence, PropulsionUnit};
use crate::rotor::RotorParams;
use crate::units::{AngularVelocity, ElectricCurrent, ElectricalResistance, Ratio};

/// Pitch over diameter that the typical coefficients cover.
static PITCH_RATIO: InputRange = InputRange::new("pitch_to_diameter", Kind::Number, 0.2, 0.8);
/// Taken where the pitch is not stated: usual for lifting rotors, no source.
const USUAL_PITCH_RATIO: f64 = 1.0 / 3.0;
const SPREAD_WITH_PITCH: f64 = 0.15;
const SPREAD_WITHOUT_PITCH: f64 = 0.18;
/// Share of its input that a speed controller passes on near full load: common practice, no source.
pub(super) const TYPICAL_CONTROLLER_EFFICIENCY: f64 = 0.97;
/// Sea-level density at which the motor's limit is turned into a speed, kg/m³.
const SEA_LEVEL_DENSITY: f64 = 1.225;

/// Typical C_T and C_P at a pitch over diameter.
pub(super) fn typical_coefficients(declared: &Declared) -> Result<(f64, f64), InputError> {
    let pitch_ratio = match declared.pitch {
        Some(pitch) => PITCH_RATIO.check(pitch.value / declared.diameter.value)?,
        None => USUAL_PITCH_RATIO,
    };
    Ok((0.065 + 0.10 * pitch_ratio, 0.010 + 0.085 * pitch_ratio))
}

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
    let (thrust_coefficient, power_coefficient) = typical_coefficients(declared)?;

    let no_load_a = declared.no_load_current.map_or(motor_limit_a / 50.0, |current| current.value);
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
        },
        motor: MotorParams {
            velocity_constant,
            resistance: ElectricalResistance::new::<ohm>(MotorParams::RESISTANCE.check(resistance_ohm)?),
            no_load_current: ElectricCurrent::new::<ampere>(MotorParams::NO_LOAD_CURRENT.check(no_load_a)?),
            current_limit: declared.motor_current_limit,
        },
        controller: ControllerParams {
            efficiency: Ratio::new::<ratio>(TYPICAL_CONTROLLER_EFFICIENCY),
            current_limit: declared.controller_current_limit,
        },
        evidence: Evidence::Estimate {
            power_spread: Ratio::new::<ratio>(if declared.pitch.is_some() {
                SPREAD_WITH_PITCH
            } else {
                SPREAD_WITHOUT_PITCH
            }),
        },
    })
}
