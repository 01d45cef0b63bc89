//! A coaxial pair of like units: the upper as if alone, the lower in its wake.
//!
//! Equations, sources and uncertainty: `rotor::CoaxialParams` and its module. Units: SI.

use uom::si::force::newton;

use crate::input_error::InputError;
use crate::propulsion::operate::UnitKernel;
use crate::propulsion::params::{OperatingPoint, PropulsionUnit, ThrustCeiling};
use crate::propulsion::root::last_positive;
use crate::rotor::{CoaxialParams, Flow, RotorParams, Wake, contraction};
use crate::units::{ElectricPotential, Force, MassDensity};

/// How a pair shares its thrust.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum PairRule {
    /// Each rotor half.
    #[default]
    EqualThrust,
    /// Equal shaft torques: the pair does not turn the frame.
    BalancedTorque,
    /// Equal motor voltages: both speed controllers get one command.
    EqualDuty,
}

/// Upper and lower unit, each at its thrust.
///
/// # Errors
/// As `operate`; `InputError::OutOfRange` for the wake contraction.
pub fn operate_pair(
    unit: &PropulsionUnit,
    coaxial: &CoaxialParams,
    air_density: MassDensity,
    upper_thrust: Force,
    lower_thrust: Force,
    flow: &Flow,
) -> Result<(OperatingPoint, OperatingPoint), InputError> {
    let kernel = UnitKernel::new(unit, air_density, flow)?;
    let contraction = contraction(*coaxial)?;
    let upper_n = RotorParams::THRUST.check(upper_thrust.value)?;
    let lower_n = RotorParams::THRUST.check(lower_thrust.value)?;
    let wake = Wake { upper_thrust_n: upper_n, contraction };
    Ok((kernel.point(upper_n, None)?, kernel.point(lower_n, Some(wake))?))
}

/// The greatest thrust of each: the upper at its own ceiling, the lower at its ceiling in that wake.
///
/// # Errors
/// As `ceiling`; `InputError::OutOfRange` for the wake contraction.
pub fn pair_ceiling(
    unit: &PropulsionUnit,
    coaxial: &CoaxialParams,
    air_density: MassDensity,
    bus_voltage: ElectricPotential,
    flow: &Flow,
) -> Result<(ThrustCeiling, ThrustCeiling), InputError> {
    let kernel = UnitKernel::new(unit, air_density, flow)?;
    let contraction = contraction(*coaxial)?;
    let upper = kernel.ceiling(bus_voltage, None)?;
    let wake = Wake { upper_thrust_n: upper.point.thrust.value, contraction };
    Ok((upper, kernel.ceiling(bus_voltage, Some(wake))?))
}

/// Shares a pair's thrust between upper and lower by a rule: (upper, lower).
///
/// # Errors
/// As `operate_pair`; the total may be up to twice the bound of one rotor.
pub fn split_pair(
    unit: &PropulsionUnit,
    coaxial: &CoaxialParams,
    air_density: MassDensity,
    total: Force,
    flow: &Flow,
    rule: PairRule,
) -> Result<(Force, Force), InputError> {
    let total_n = 2.0 * RotorParams::THRUST.check(total.value / 2.0)?;
    let kernel = UnitKernel::new(unit, air_density, flow)?;
    let contraction = contraction(*coaxial)?;
    let shared =
        |share: f64| (Force::new::<newton>(share * total_n), Force::new::<newton>((1.0 - share) * total_n));
    if rule == PairRule::EqualThrust || total_n == 0.0 {
        return Ok(shared(0.5));
    }
    let lower_excess = |share: f64| {
        let wake = Wake { upper_thrust_n: share * total_n, contraction };
        let (upper_work, upper_drive) = kernel.raw(share * total_n, None);
        let (lower_work, lower_drive) = kernel.raw((1.0 - share) * total_n, Some(wake));
        let (upper, lower) = match rule {
            PairRule::BalancedTorque => (upper_work.torque_n_m(), lower_work.torque_n_m()),
            PairRule::EqualDuty | PairRule::EqualThrust => (upper_drive.voltage_v, lower_drive.voltage_v),
        };
        (lower - upper) / (lower.abs() + upper.abs())
    };
    // At equal shares the lower works harder; almost alone the upper does. Where the lower does not work harder
    // (a flow that undoes the wake) equal thrust is the rule's answer to within the wake's effect.
    let share = last_positive(0.5, 0.99, 1e-10, lower_excess).unwrap_or(0.5);
    Ok(shared(share))
}
