//! Rotor places.

use crate::input_error::InputError;
use crate::input_range::{InputRange, Kind};
use crate::units::Length;

/// A point in body axes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Position {
    /// x, forward.
    pub forward: Length,
    /// y, right.
    pub right: Length,
    /// z, down.
    pub down: Length,
}

impl Position {
    /// ±3 m on each axis.
    pub const OFFSET: InputRange = InputRange::new("position", Kind::PartLength, -3.0, 3.0);

    /// Holds each axis against the bound.
    ///
    /// # Errors
    /// `InputError::OutOfRange`.
    pub fn validate(&self) -> Result<(), InputError> {
        for axis in [self.forward, self.right, self.down] {
            Self::OFFSET.check(axis.value)?;
        }
        Ok(())
    }
}

/// Sense of rotation seen from above.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Spin {
    /// Turns clockwise; its drag torque turns the frame counter-clockwise.
    Clockwise,
    /// Turns counter-clockwise.
    CounterClockwise,
}

crate::keyed! {
    /// Where a rotor sits on its arm.
    pub enum RotorRole {
        /// Alone on its arm.
        Single = "single",
        /// Upper of a pair.
        Upper = "upper",
        /// Lower of a pair: works in the upper rotor's wake.
        Lower = "lower",
    }
}

/// One rotor's place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    /// Hub position.
    pub position: Position,
    /// Sense of rotation.
    pub spin: Spin,
    /// Alone or paired.
    pub role: RotorRole,
}

/// All rotors of an aircraft.
#[derive(Debug, Clone, PartialEq)]
pub struct Layout {
    /// The rotors.
    pub places: Vec<Place>,
}

impl Layout {
    /// Distance of a rotor hub from the centre.
    pub const ARM_LENGTH: InputRange = InputRange::new("arm_length", Kind::PartLength, 0.05, 3.0);
    /// Upper to lower rotor of a pair.
    pub const COAXIAL_SPACING: InputRange = InputRange::new("coaxial_spacing", Kind::PartLength, 0.01, 1.0);
    /// Rotors of a layout entered place by place.
    pub const ROTORS: InputRange = InputRange::new("rotors", Kind::Count, 3.0, 16.0);
}
