//! The aircraft without what is put on it.

use crate::frame::Layout;
use crate::input_error::InputError;
use crate::input_range::{InputRange, Kind};
use crate::propulsion::PropulsionUnit;
use crate::units::{Area, Mass};

/// The aircraft without what is put on it.
#[derive(Debug, Clone, PartialEq)]
pub struct Airframe {
    /// Rotor places.
    pub layout: Layout,
    /// The propulsion unit at every place.
    pub unit: PropulsionUnit,
    /// Greatest all-up mass the frame's maker allows, if stated.
    pub mass_limit: Option<Mass>,
    /// Equivalent flat-plate area of everything but the rotors.
    pub drag_area: Area,
}

impl Airframe {
    /// 0.005 to 3 m².
    pub const DRAG_AREA: InputRange = InputRange::new("drag_area", Kind::Area, 0.005, 3.0);
    /// 0.2 to 150 kg.
    pub const MASS_LIMIT: InputRange = InputRange::new("mass_limit", Kind::Mass, 0.2, 150.0);

    /// Holds drag area and mass limit against their bounds.
    ///
    /// # Errors
    /// `InputError::OutOfRange` naming the first field that misses.
    pub fn validate(&self) -> Result<(), InputError> {
        Self::DRAG_AREA.check(self.drag_area.value)?;
        if let Some(limit) = self.mass_limit {
            Self::MASS_LIMIT.check(limit.value)?;
        }
        Ok(())
    }
}
