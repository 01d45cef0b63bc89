//! What can be wrong with a layout.

use core::fmt;

/// A layout that cannot be used.
#[derive(Debug, Clone, PartialEq)]
pub enum LayoutFault {
    /// Fewer rotors than can hold level.
    TooFewRotors {
        /// Rotors given.
        rotors: usize,
    },
    /// An upper rotor without its lower one right after it, or the other way round.
    UnpairedRotor {
        /// The rotor, from 0.
        rotor: usize,
    },
    /// No set of non-negative rotor thrusts holds this centre of gravity level.
    CentreOfGravityOutside,
}

impl fmt::Display for LayoutFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooFewRotors { rotors } => {
                write!(f, "the layout has {rotors} rotors, at least 3 are needed")
            }
            Self::UnpairedRotor { rotor } => write!(
                f,
                "rotor {} is half of a coaxial pair: list every lower rotor right after its upper one",
                rotor + 1
            ),
            Self::CentreOfGravityOutside => {
                write!(f, "the centre of gravity lies outside what the rotors can hold level")
            }
        }
    }
}
