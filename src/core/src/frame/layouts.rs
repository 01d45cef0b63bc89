//! The named layouts as data, and layouts entered place by place.
//!
//! Formula   hub at azimuth ψ clockwise from the nose: forward = a cos ψ, right = a sin ψ
//! Units     m, degrees
//! Source    regular polygons; spin orders as in the fault-tolerance literature (Du et al., arXiv:1403.5986):
//!           P and N are the two senses
//! Valid     arm lengths inside `Layout::ARM_LENGTH`
//! Assumes   all hubs in one plane, pairs half their spacing above and below it

use super::params::{Layout, Place, Position, RotorRole, Spin};
use crate::input_error::InputError;
use crate::input_error::LayoutFault;
use crate::units::Length;

struct Pattern {
    first_azimuth_deg: f64,
    /// One letter an arm; on coaxial arms the upper rotor's, the lower turns the other way.
    spins: &'static str,
    coaxial: bool,
}

macro_rules! layouts {
    ($($(#[doc = $says:expr])+ $kind:ident, $key:literal, $name:literal, $azimuth:literal, $spins:literal, $coaxial:literal;)+) => {
        /// The named layouts; others are entered place by place.
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub enum LayoutKind {
            $($(#[doc = $says])+ $kind,)+
        }

        impl LayoutKind {
            /// All named layouts.
            pub const ALL: [Self; [$($key),+].len()] = [$(Self::$kind),+];

            /// Stable key for files.
            pub const fn key(self) -> &'static str {
                match self { $(Self::$kind => $key),+ }
            }

            /// What the trade calls it.
            pub const fn name(self) -> &'static str {
                match self { $(Self::$kind => $name),+ }
            }

            /// The layout with this key.
            pub fn from_key(key: &str) -> Option<Self> {
                match key { $($key => Some(Self::$kind),)+ _ => None }
            }

            const fn pattern(self) -> Pattern {
                match self {
                    $(Self::$kind => Pattern { first_azimuth_deg: $azimuth, spins: $spins, coaxial: $coaxial }),+
                }
            }

            /// Whether it has rotors in pairs.
            pub const fn is_coaxial(self) -> bool {
                self.pattern().coaxial
            }
        }
    };
}

layouts! {
    /// Four arms, nose between two.
    QuadCross, "quad-cross", "quad X", 45.0, "PNPN", false;
    /// Four arms, nose over one.
    QuadPlus, "quad-plus", "quad +", 0.0, "PNPN", false;
    /// Six arms, nose between two, spins alternating (PNPNPN).
    HexCross, "hex-cross", "hexa X", 30.0, "PNPNPN", false;
    /// Six arms, nose over one, spins alternating.
    HexPlus, "hex-plus", "hexa +", 0.0, "PNPNPN", false;
    /// Six arms, nose between two, spins in the alternate order PPNNPN.
    HexCrossAlternate, "hex-cross-alternate", "hexa X, spins PPNNPN", 30.0, "PPNNPN", false;
    /// Eight arms, nose between two.
    OctoCross, "octo-cross", "octo X", 22.5, "PNPNPNPN", false;
    /// Eight arms, nose over one.
    OctoPlus, "octo-plus", "octo +", 0.0, "PNPNPNPN", false;
    /// Three arms of two rotors.
    CoaxialTri, "coaxial-tri", "Y6 (coaxial tri)", 60.0, "PPP", true;
    /// Four arms of two rotors, nose between two.
    CoaxialQuad, "coaxial-quad", "X8 (coaxial quad)", 45.0, "PNPN", true;
}

/// A named layout with its size. `coaxial_spacing` is from upper to lower rotor; single rotors ignore it.
///
/// # Errors
/// `InputError::OutOfRange` for arm length or spacing.
pub fn layout(kind: LayoutKind, arm_length: Length, coaxial_spacing: Length) -> Result<Layout, InputError> {
    Layout::ARM_LENGTH.check(arm_length.value)?;
    let pattern = kind.pattern();
    if pattern.coaxial {
        Layout::COAXIAL_SPACING.check(coaxial_spacing.value)?;
    }
    let step_deg = 360.0 / pattern.spins.len() as f64;
    let mut places = Vec::with_capacity(2 * pattern.spins.len());
    for (arm, letter) in pattern.spins.chars().enumerate() {
        let azimuth = (pattern.first_azimuth_deg + step_deg * arm as f64).to_radians();
        let spin = if letter == 'P' { Spin::CounterClockwise } else { Spin::Clockwise };
        let place = |role, spin, down| Place {
            position: Position {
                forward: arm_length * azimuth.cos(),
                right: arm_length * azimuth.sin(),
                down,
            },
            spin,
            role,
        };
        if pattern.coaxial {
            places.push(place(RotorRole::Upper, spin, -coaxial_spacing / 2.0));
            places.push(place(RotorRole::Lower, spin.other(), coaxial_spacing / 2.0));
        } else {
            places.push(place(RotorRole::Single, spin, Length::default()));
        }
    }
    Ok(Layout { places })
}

impl Spin {
    fn other(self) -> Self {
        match self {
            Self::Clockwise => Self::CounterClockwise,
            Self::CounterClockwise => Self::Clockwise,
        }
    }
}

impl Layout {
    /// A layout place by place: at least three rotors, every lower rotor right after its upper.
    ///
    /// # Errors
    /// `InputError::Layout` or `InputError::OutOfRange` naming what is wrong.
    pub fn from_places(places: Vec<Place>) -> Result<Self, InputError> {
        if places.len() < 3 {
            return Err(InputError::Layout(LayoutFault::TooFewRotors { rotors: places.len() }));
        }
        Self::ROTORS.check(places.len() as f64)?;
        for (index, place) in places.iter().enumerate() {
            place.position.validate()?;
            let before = index.checked_sub(1).and_then(|i| places.get(i)).map(|place| place.role);
            let after = places.get(index + 1).map(|place| place.role);
            let is_paired = match place.role {
                RotorRole::Single => true,
                RotorRole::Upper => after == Some(RotorRole::Lower),
                RotorRole::Lower => before == Some(RotorRole::Upper),
            };
            if !is_paired {
                return Err(InputError::Layout(LayoutFault::UnpairedRotor { rotor: index }));
            }
        }
        Ok(Self { places })
    }
}
