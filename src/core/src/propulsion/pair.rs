//! A coaxial pair of like units, each in the flow that the other makes.
//!
//! Equations, sources and uncertainty: `rotor::CoaxialParams` and its module. Units: SI.

use nalgebra::{Matrix2, Vector2};
use uom::si::force::newton;

use crate::input_error::InputError;
use crate::propulsion::operate::{TOLERANCE, UnitKernel};
use crate::propulsion::params::{OperatingPoint, PropulsionUnit, ThrustCeiling};
use crate::propulsion::root::last_positive;
use crate::rotor::{CoaxialParams, Flow, Neighbour, Pair, PairFactors, PairSpacing, Partner, RotorParams};
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
    let pair = PairKernel::new(unit, *coaxial, air_density, flow)?;
    let upper_n = RotorParams::THRUST.check(upper_thrust.value)?;
    let lower_n = RotorParams::THRUST.check(lower_thrust.value)?;
    let factors = pair.factors(upper_n, lower_n);
    let upper = pair.unit.point(upper_n, Neighbour::Factor(factors.upper))?;
    Ok((upper, pair.unit.point(lower_n, Neighbour::Factor(factors.lower))?))
}

/// Both at full throttle the lower gives some 0.7 of what it gives alone: a start.
const USUAL_LOWER_SHARE: f64 = 0.7;
const MOST_ROUNDS: usize = 4;
const CLOSE: f64 = 1e-4;
/// Rounds in which both ceilings are found at once, almost always.
const ROUNDS_TOGETHER: usize = 10;
/// The share by which the roots of both thrusts move for what is left of both limits, columns upper and lower: a start.
const USUAL_MOVES: [[f64; 2]; 2] = [[0.6, -0.12], [-0.06, 0.66]];

/// Two like units in the same air, each to be told of the other.
struct PairKernel {
    unit: UnitKernel,
    spacing: PairSpacing,
}

impl PairKernel {
    fn new(
        unit: &PropulsionUnit,
        coaxial: CoaxialParams,
        air_density: MassDensity,
        flow: &Flow,
    ) -> Result<Self, InputError> {
        Ok(Self {
            unit: UnitKernel::new(unit, air_density, flow)?,
            spacing: PairSpacing::new(coaxial, unit.rotor.diameter.value)?,
        })
    }

    fn factors(&self, upper_n: f64, lower_n: f64) -> PairFactors {
        self.unit.factors(Pair { upper_n, lower_n, spacing: self.spacing })
    }

    fn above(&self, thrust_n: f64) -> Neighbour {
        Neighbour::Partner(Partner { thrust_n, spacing: self.spacing, is_above: true })
    }

    fn below(&self, thrust_n: f64) -> Neighbour {
        Neighbour::Partner(Partner { thrust_n, spacing: self.spacing, is_above: false })
    }

    /// Both at their ceilings, sought by moving each by its own slope in the flow of both; none where that does not come to
    /// rest, as where the limit that rules changes.
    fn together(
        &self,
        bus_voltage: ElectricPotential,
        near: (Force, Force),
    ) -> Result<Option<(ThrustCeiling, ThrustCeiling)>, InputError> {
        let bus_v = PropulsionUnit::BUS_VOLTAGE.check(bus_voltage.value)?;
        let mut roots = Vector2::new(near.0.value.sqrt(), near.1.value.sqrt());
        let mut moves = Matrix2::from(USUAL_MOVES);
        let mut last: Option<(Vector2<f64>, Vector2<f64>)> = None;
        for _ in 0..ROUNDS_TOGETHER {
            if !roots.iter().all(|root| *root > 0.0) {
                break;
            }
            let (upper_n, lower_n) = (roots.x * roots.x, roots.y * roots.y);
            let factors = self.factors(upper_n, lower_n);
            let at = |thrust_n, factor| self.unit.at_limits(bus_v, thrust_n, Neighbour::Factor(factor));
            let (upper, lower) = (at(upper_n, factors.upper), at(lower_n, factors.lower));
            let spare = Vector2::new(upper.spare, lower.spare);
            if spare.iter().all(|spare| (0.0..=TOLERANCE).contains(spare)) {
                return Ok(Some((upper.ceiling()?, lower.ceiling()?)));
            }
            if let Some((step, spare_before)) = last {
                let used = spare_before - spare;
                let (answered, along) = (moves * used, step.transpose() * moves);
                let scale = (along * used).x;
                if scale.abs() > 0.0 {
                    moves += (step - answered) * along / scale;
                }
            }
            let step = moves * spare.add_scalar(-0.5 * TOLERANCE);
            roots.component_mul_assign(&step.add_scalar(1.0));
            last = Some((step, spare));
        }
        Ok(None)
    }

    /// Both at their ceilings, the upper over a lower of this thrust.
    fn both(
        &self,
        bus_voltage: ElectricPotential,
        lower_n: f64,
        near: (Force, Force),
    ) -> Result<(ThrustCeiling, ThrustCeiling), InputError> {
        let upper = self.unit.ceiling(bus_voltage, self.below(lower_n), Some(near.0))?;
        let lower = self.unit.ceiling(bus_voltage, self.above(upper.point.thrust.value), Some(near.1))?;
        Ok((upper, lower))
    }
}

/// The greatest thrust of each, both at their ceilings in the flow of the other; sought first `near` what is known for a
/// like state.
///
/// # Errors
/// As `ceiling`; `InputError::OutOfRange` for the spacing.
pub fn pair_ceiling(
    unit: &PropulsionUnit,
    coaxial: &CoaxialParams,
    air_density: MassDensity,
    bus_voltage: ElectricPotential,
    flow: &Flow,
    near: Option<(Force, Force)>,
) -> Result<(ThrustCeiling, ThrustCeiling), InputError> {
    let pair = PairKernel::new(unit, *coaxial, air_density, flow)?;
    let start = if let Some(near) = near {
        near
    } else {
        let alone = pair.unit.ceiling(bus_voltage, Neighbour::None, None)?.point.thrust;
        (alone, USUAL_LOWER_SHARE * alone)
    };
    if let Some(both) = pair.together(bus_voltage, start)? {
        return Ok(both);
    }
    let mut lower_n = start.1.value;
    let (mut upper, mut lower) = pair.both(bus_voltage, lower_n, start)?;
    for _ in 0..MOST_ROUNDS {
        let found_n = lower.point.thrust.value;
        let is_close = (found_n - lower_n).abs() < CLOSE * lower_n;
        lower_n = found_n;
        if is_close {
            break;
        }
        (upper, lower) = pair.both(bus_voltage, lower_n, (upper.point.thrust, lower.point.thrust))?;
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
    let pair = PairKernel::new(unit, *coaxial, air_density, flow)?;
    let shared =
        |share: f64| (Force::new::<newton>(share * total_n), Force::new::<newton>((1.0 - share) * total_n));
    if rule == PairRule::EqualThrust || total_n == 0.0 {
        return Ok(shared(0.5));
    }
    let lower_excess = |share: f64| {
        let (upper_n, lower_n) = (share * total_n, (1.0 - share) * total_n);
        let factors = pair.factors(upper_n, lower_n);
        let (upper_work, upper_drive) = pair.unit.raw(upper_n, Neighbour::Factor(factors.upper));
        let (lower_work, lower_drive) = pair.unit.raw(lower_n, Neighbour::Factor(factors.lower));
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
