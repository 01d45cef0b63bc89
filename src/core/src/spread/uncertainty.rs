//! What varies: one standard deviation of each uncertain input.

use crate::aircraft::Airframe;
use crate::frame::RotorRole;
use crate::input_error::InputError;
use crate::input_range::{InputRange, Kind};
use crate::propulsion::Evidence;
use crate::rotor::CoaxialParams;
use crate::units::{Ratio, TemperatureInterval};
use uom::si::ratio::ratio;
use uom::si::temperature_interval::kelvin;

/// Standard deviations below the middle that one in ten falls short of: Φ(−1.2816) = 0.1, any table of the normal
/// distribution, from memory (held by the test in `draw`).
const ONE_IN_TEN: f64 = 1.2816;

/// How a crew flies, what a stand leaves out: common practice, no source.
const HOW_IT_IS_FLOWN: f64 = 0.03;

/// One standard deviation of each uncertain input. All defaults: common practice, no source, but for power,
/// which follows from what is known of the propulsion unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Uncertainty {
    /// Of the thrust at equal speed: share, of its logarithm.
    pub thrust: Ratio,
    /// All-up mass, share.
    pub mass: Ratio,
    /// Motor power at given thrust and air, share.
    pub power: Ratio,
    /// Capacity of the packs, share.
    pub capacity: Ratio,
    /// Resistance of the packs, share (drawn log-normal).
    pub resistance: Ratio,
    /// Mean wind, share (drawn log-normal).
    pub wind: Ratio,
    /// Temperature of air and packs.
    pub temperature: TemperatureInterval,
}

impl Uncertainty {
    /// 0 to 0.5, for every share.
    pub const SHARE: InputRange = InputRange::new("standard_deviation", Kind::Share, 0.0, 0.5);
    /// 0 to 15 K.
    pub const TEMPERATURE: InputRange =
        InputRange::new("temperature_standard_deviation", Kind::Number, 0.0, 15.0);

    /// Defaults for a propulsion unit: power is in doubt by 3 % (how a crew flies, what a stand leaves out)
    /// beside the error of the fit, or by the spread of the estimate.
    pub fn for_evidence(evidence: &Evidence) -> Self {
        let unit = evidence.power_spread();
        let share = Ratio::new::<ratio>;
        Self {
            thrust: evidence.thrust_spread(),
            mass: share(0.01),
            power: share(unit.value.hypot(HOW_IT_IS_FLOWN)),
            capacity: share(0.03),
            resistance: share(0.15),
            wind: share(0.25),
            temperature: TemperatureInterval::new::<kelvin>(2.0),
        }
    }

    /// Defaults for an airframe: its unit's, and of coaxial pairs the doubt of what each rotor does to the other. Where
    /// flights have taught of its power, what they leave in doubt stands in for both.
    pub fn for_airframe(airframe: &Airframe) -> Self {
        let of_unit = Self::for_evidence(&airframe.unit.evidence);
        if let Some(correction) = airframe.power_correction {
            let power = Ratio::new::<ratio>(correction.spread.value.hypot(HOW_IT_IS_FLOWN));
            return Self { power: power.min(Ratio::new::<ratio>(Self::SHARE.max)), ..of_unit };
        }
        let in_pairs = airframe.layout.places.iter().any(|place| place.role == RotorRole::Lower);
        let pairs = if in_pairs { CoaxialParams::POWER_SPREAD } else { 0.0 };
        Self { power: Ratio::new::<ratio>(of_unit.power.value.hypot(pairs)), ..of_unit }
    }

    /// Thrust over weight that one aircraft in ten falls short of. Where full duty ends the thrust it goes with C_T, since
    /// a rotor that gives more also turns the motor slower: cautious.
    pub fn cautious_thrust_to_weight(&self, typical: Ratio) -> Ratio {
        typical * (-ONE_IN_TEN * self.thrust.value.hypot(self.mass.value)).exp()
    }

    /// Throttle that one aircraft in ten needs more than: T ~ n², so half of the doubt of thrust is doubt of speed.
    pub fn cautious_throttle(&self, typical: Ratio) -> Ratio {
        typical * (0.5 * ONE_IN_TEN * self.thrust.value.hypot(self.mass.value)).exp()
    }

    /// Holds every deviation against its bound.
    ///
    /// # Errors
    /// `InputError::OutOfRange` naming the bound that is missed.
    pub fn validate(&self) -> Result<(), InputError> {
        for share in [self.thrust, self.mass, self.power, self.capacity, self.resistance, self.wind] {
            Self::SHARE.check(share.value)?;
        }
        Self::TEMPERATURE.check(self.temperature.value)?;
        Ok(())
    }
}
