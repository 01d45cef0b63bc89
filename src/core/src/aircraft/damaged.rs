//! Level hover with rotors stopped or weak: what each remaining rotor then does.
//!
//! Formula   thrusts by `frame::allocate`, each at most the thrust its motor reaches at the bus voltage times what it has left;
//!           a rotor whose pair partner stands still works as if alone
//! Units     SI
//! Source    the stations before
//! Valid     still air
//! Assumes   heading is held while that carries the weight, else given up; a stopped rotor has no drag and no wake

use super::trim::Trim;
use crate::frame::{Capability, LevelHold, RotorRole, allocate, level_hold};
use crate::input_error::InputError;
use crate::propulsion::{OperatingPoint, ceiling, operate, operate_pair, pair_ceiling};
use crate::rotor::Flow;
use crate::units::{ElectricPotential, Force, MassDensity, Power, Ratio};
use uom::si::force::newton;

/// What stands still carries no more than this, N.
const STILL_N: f64 = 1e-6;

/// A hover held by what is left.
#[derive(Debug, Clone, PartialEq)]
pub struct DamagedHover {
    /// Each rotor at work; none where it stands still.
    pub rotors: Vec<Option<OperatingPoint>>,
    /// Motor power from the bus.
    pub power: Power,
    /// Whether the heading is held; else the aircraft turns.
    pub holds_heading: bool,
}

impl Trim<'_> {
    /// How level can be held with each rotor giving the share of its thrust that `thrust_left` says.
    ///
    /// # Errors
    /// As `frame::level_hold`.
    pub fn level_hold(&self, thrust_left: &[Ratio]) -> Result<LevelHold, InputError> {
        level_hold(&self.airframe().layout, &self.centre_of_gravity(), thrust_left)
    }

    /// Level hover in still air with that thrust left; none where this weight cannot be carried level.
    ///
    /// # Errors
    /// As `frame::level_hold`, and from the propulsion unit.
    pub fn damaged_hover(
        &self,
        density: MassDensity,
        bus_voltage: ElectricPotential,
        thrust_left: &[Ratio],
    ) -> Result<Option<DamagedHover>, InputError> {
        let hold = self.level_hold(thrust_left)?;
        if hold.capability == Capability::CannotHoldLevel {
            return Ok(None);
        }
        let greatest = self.greatest_thrusts(density, bus_voltage, thrust_left)?;
        let carried = |heading| {
            allocate(&self.airframe().layout, &self.centre_of_gravity(), &greatest, self.weight(), heading)
        };
        let mut holds_heading = hold.capability == Capability::HoldsLevelAndHeading;
        let mut thrusts = if holds_heading { carried(true)? } else { None };
        if thrusts.is_none() {
            holds_heading = false;
            thrusts = carried(false)?;
        }
        let Some(thrusts) = thrusts else { return Ok(None) };
        let rotors = self.each_at_work(density, &thrusts)?;
        let power = rotors.iter().flatten().fold(Power::default(), |sum, rotor| sum + rotor.bus_power)
            * self.airframe().power_factor();
        Ok(Some(DamagedHover { rotors, power, holds_heading }))
    }

    fn greatest_thrusts(
        &self,
        density: MassDensity,
        bus_voltage: ElectricPotential,
        thrust_left: &[Ratio],
    ) -> Result<Vec<Force>, InputError> {
        let (airframe, still) = (self.airframe(), Flow::still());
        let alone = ceiling(&airframe.unit, density, bus_voltage, &still, None)?.point.thrust;
        let left = |index: usize| thrust_left.get(index).copied().unwrap_or_else(|| Ratio::from(1.0));
        let mut in_wake = None;
        let mut greatest = Vec::with_capacity(airframe.layout.places.len());
        for (index, place) in airframe.layout.places.iter().enumerate() {
            let above = index.checked_sub(1).filter(|_| place.role == RotorRole::Lower);
            let has_upper_above = above.is_some_and(|above| left(above).value > 0.0);
            let whole = match (has_upper_above, in_wake) {
                (false, _) => alone,
                (true, Some(known)) => known,
                (true, None) => {
                    let (_, lower) =
                        pair_ceiling(&airframe.unit, self.coaxial(), density, bus_voltage, &still, None)?;
                    *in_wake.insert(lower.point.thrust)
                }
            };
            greatest.push(whole * left(index));
        }
        Ok(greatest)
    }

    fn each_at_work(
        &self,
        density: MassDensity,
        thrusts: &[Force],
    ) -> Result<Vec<Option<OperatingPoint>>, InputError> {
        let (airframe, still) = (self.airframe(), Flow::still());
        let turns = |thrust: Force| thrust.get::<newton>() > STILL_N;
        let alone = |thrust: Force| {
            turns(thrust).then(|| operate(&airframe.unit, density, thrust, &still)).transpose()
        };
        let mut rotors = Vec::with_capacity(thrusts.len());
        for (index, (place, thrust)) in airframe.layout.places.iter().zip(thrusts).enumerate() {
            match (place.role, thrusts.get(index + 1)) {
                (RotorRole::Upper, Some(lower)) if turns(*thrust) && turns(*lower) => {
                    let (upper, lower) =
                        operate_pair(&airframe.unit, self.coaxial(), density, *thrust, *lower, &still)?;
                    rotors.extend([Some(upper), Some(lower)]);
                }
                (RotorRole::Upper, Some(lower)) => rotors.extend([alone(*thrust)?, alone(*lower)?]),
                (RotorRole::Lower, _) => {}
                (RotorRole::Single | RotorRole::Upper, _) => rotors.push(alone(*thrust)?),
            }
        }
        Ok(rotors)
    }
}
