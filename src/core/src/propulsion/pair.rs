//! A coaxial pair of like units, each in the flow that the other makes.
//!
//! Equations, sources and uncertainty: `rotor::CoaxialParams` and its module. Units: SI.

use uom::si::force::newton;

use crate::input_error::InputError;
use crate::propulsion::operate::UnitKernel;
use crate::propulsion::params::{OperatingPoint, PropulsionUnit, ThrustCeiling};
use crate::propulsion::root::last_positive;
use crate::rotor::{CoaxialParams, Flow, Partner, RotorParams, spacing_over_radius};
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
/// As `operate`; `InputError::OutOfRange` for the spacing.
pub fn operate_pair(
    unit: &PropulsionUnit,
    coaxial: &CoaxialParams,
    air_density: MassDensity,
    upper_thrust: Force,
    lower_thrust: Force,
    flow: &Flow,
) -> Result<(OperatingPoint, OperatingPoint), InputError> {
    let kernel = UnitKernel::new(unit, air_density, flow)?;
    let beside = PairSpacing::new(unit, *coaxial)?;
    let upper_n = RotorParams::THRUST.check(upper_thrust.value)?;
    let lower_n = RotorParams::THRUST.check(lower_thrust.value)?;
    let upper = kernel.point(upper_n, Some(beside.lower(lower_n)))?;
    Ok((upper, kernel.point(lower_n, Some(beside.upper(upper_n)))?))
}

/// Both at full throttle the lower gives some 0.7 of what it gives alone: a start.
const USUAL_LOWER_SHARE: f64 = 0.7;
const MOST_ROUNDS: usize = 4;
const CLOSE: f64 = 1e-4;

/// How far apart the discs are, to tell each rotor of the other.
#[derive(Debug, Clone, Copy)]
struct PairSpacing {
    spacing_over_radius: f64,
}

impl PairSpacing {
    fn new(unit: &PropulsionUnit, coaxial: CoaxialParams) -> Result<Self, InputError> {
        Ok(Self { spacing_over_radius: spacing_over_radius(coaxial, unit.rotor.diameter.value)? })
    }

    fn upper(self, thrust_n: f64) -> Partner {
        Partner { thrust_n, spacing_over_radius: self.spacing_over_radius, is_above: true }
    }

    fn lower(self, thrust_n: f64) -> Partner {
        Partner { thrust_n, spacing_over_radius: self.spacing_over_radius, is_above: false }
    }
}

/// The greatest thrust of each, both at their ceilings in the flow of the other.
///
/// # Errors
/// As `ceiling`; `InputError::OutOfRange` for the spacing.
pub fn pair_ceiling(
    unit: &PropulsionUnit,
    coaxial: &CoaxialParams,
    air_density: MassDensity,
    bus_voltage: ElectricPotential,
    flow: &Flow,
) -> Result<(ThrustCeiling, ThrustCeiling), InputError> {
    let kernel = UnitKernel::new(unit, air_density, flow)?;
    let beside = PairSpacing::new(unit, *coaxial)?;
    let mut lower_n = USUAL_LOWER_SHARE * kernel.ceiling(bus_voltage, None)?.point.thrust.value;
    let mut upper = kernel.ceiling(bus_voltage, Some(beside.lower(lower_n)))?;
    let mut lower = kernel.ceiling(bus_voltage, Some(beside.upper(upper.point.thrust.value)))?;
    for _ in 0..MOST_ROUNDS {
        let is_close = (lower.point.thrust.value - lower_n).abs() < CLOSE * lower_n;
        lower_n = lower.point.thrust.value;
        if is_close {
            break;
        }
        upper = kernel.ceiling(bus_voltage, Some(beside.lower(lower_n)))?;
        lower = kernel.ceiling(bus_voltage, Some(beside.upper(upper.point.thrust.value)))?;
    }
    Ok((upper, lower))
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
    let beside = PairSpacing::new(unit, *coaxial)?;
    let shared =
        |share: f64| (Force::new::<newton>(share * total_n), Force::new::<newton>((1.0 - share) * total_n));
    if rule == PairRule::EqualThrust || total_n == 0.0 {
        return Ok(shared(0.5));
    }
    let lower_excess = |share: f64| {
        let (upper_n, lower_n) = (share * total_n, (1.0 - share) * total_n);
        let (upper_work, upper_drive) = kernel.raw(upper_n, Some(beside.lower(lower_n)));
        let (lower_work, lower_drive) = kernel.raw(lower_n, Some(beside.upper(upper_n)));
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
