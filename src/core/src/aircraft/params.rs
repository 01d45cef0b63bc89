//! The aircraft without what is put on it.

use crate::frame::Layout;
use crate::input_error::InputError;
use crate::input_range::{InputRange, Kind};
use crate::propulsion::PropulsionUnit;
use crate::units::{Angle, Area, Mass, Ratio};
use uom::si::angle::degree;

/// The aircraft without what is put on it.
#[derive(Debug, Clone, PartialEq)]
pub struct Airframe {
    /// Rotor places.
    pub layout: Layout,
    /// The propulsion unit at every place.
    pub unit: PropulsionUnit,
    /// Greatest all-up mass the frame's maker allows, if stated.
    pub mass_limit: Option<Mass>,
    /// Equivalent flat-plate area of everything but the rotors: what forward flight costs in power.
    pub drag_area: Area,
    /// Equivalent flat-plate area that makes it lean, the rotors' in-plane force included: what wind it can hold.
    pub lean_area: Area,
    /// Greatest lean that its flight controller allows.
    pub tilt_limit: Angle,
    /// What flights have taught of its power; none takes the model as it is.
    pub power_correction: Option<PowerCorrection>,
}

/// What flights have taught of an airframe's power.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PowerCorrection {
    /// Power over the model's, as a card may use it.
    pub factor: Ratio,
    /// One standard deviation that is left in doubt.
    pub spread: Ratio,
}

impl PowerCorrection {
    /// 0.2 to 5.
    pub const FACTOR: InputRange = InputRange::new("power_correction", Kind::Number, 0.2, 5.0);
    /// 0.001 to 0.5.
    pub const SPREAD: InputRange = InputRange::new("power_correction_spread", Kind::Share, 0.001, 0.5);
}

impl Airframe {
    /// 0.005 to 3 m².
    pub const DRAG_AREA: InputRange = InputRange::new("drag_area", Kind::Area, 0.005, 3.0);
    /// 0.2 to 150 kg.
    pub const MASS_LIMIT: InputRange = InputRange::new("mass_limit", Kind::Mass, 0.2, 150.0);

    /// 5 to 60 degrees.
    pub const TILT_LIMIT: InputRange =
        InputRange::new("tilt_limit", Kind::Angle, 0.087_266, core::f64::consts::FRAC_PI_3);

    /// Power over the model's.
    pub(super) fn power_factor(&self) -> f64 {
        self.power_correction.map_or(1.0, |correction| correction.factor.value)
    }

    /// The same for currents and for the power at full thrust: flights at part load assure nothing less there.
    pub(super) fn strain_factor(&self) -> f64 {
        self.power_factor().max(1.0)
    }

    /// Where it is not stated, 30 degrees: the default greatest lean of a widespread open autopilot (ArduPilot, from memory).
    pub fn usual_tilt_limit() -> Angle {
        Angle::new::<degree>(30.0)
    }

    /// Holds drag area and mass limit against their bounds.
    ///
    /// # Errors
    /// `InputError::OutOfRange` naming the first field that misses.
    pub fn validate(&self) -> Result<(), InputError> {
        Self::DRAG_AREA.check(self.drag_area.value)?;
        Self::DRAG_AREA.check(self.lean_area.value)?;
        Self::TILT_LIMIT.check(self.tilt_limit.value)?;
        if let Some(correction) = self.power_correction {
            PowerCorrection::FACTOR.check(correction.factor.value)?;
            PowerCorrection::SPREAD.check(correction.spread.value)?;
        }
        if let Some(limit) = self.mass_limit {
            Self::MASS_LIMIT.check(limit.value)?;
        }
        Ok(())
    }
}
