//! The words that the file uses for core's kinds.

use liftmargin_core::cell::Chemistry;
use liftmargin_core::frame::{LayoutKind, RotorRole};
use liftmargin_core::supply::MeterPlace;

use crate::error::DocumentError;

/// Kinds of payload: items of one kind can be swapped.
pub const ITEM_KINDS: &[&str] = &["stabiliser", "camera", "lens", "radio", "other"];
/// Cell chemistries.
pub const CHEMISTRIES: &[&str] =
    &["lithium-polymer", "lithium-polymer-high-voltage", "lithium-ion-cylindrical"];
/// Roles of a rotor on a free layout.
pub const ROTOR_ROLES: &[&str] = &["single", "upper", "lower"];
/// Named layouts, and `free` for one entered place by place.
pub const LAYOUTS: &[&str] = &[
    "free",
    "quad-cross",
    "quad-plus",
    "hex-cross",
    "hex-plus",
    "hex-cross-alternate",
    "octo-cross",
    "octo-plus",
    "coaxial-tri",
    "coaxial-quad",
];
/// Places of the meter.
pub const METERS: &[&str] =
    &["bus", "string-1", "string-2", "string-3", "string-4", "string-5", "string-6", "string-7", "string-8"];

/// The error for a word that is none of the keys.
pub(crate) fn unknown(path: &str, value: &str, allowed: &'static [&'static str]) -> DocumentError {
    DocumentError::UnknownKey { path: path.to_owned(), value: value.to_owned(), allowed }
}

/// Where `value` stands among the keys.
pub(crate) fn index(
    path: &str,
    value: &str,
    allowed: &'static [&'static str],
) -> Result<usize, DocumentError> {
    allowed.iter().position(|key| *key == value).ok_or_else(|| unknown(path, value, allowed))
}

pub(crate) fn chemistry(path: &str, value: &str) -> Result<Chemistry, DocumentError> {
    index(path, value, CHEMISTRIES).map(|index| match index {
        0 => Chemistry::LithiumPolymer,
        1 => Chemistry::LithiumPolymerHighVoltage,
        _ => Chemistry::LithiumIonCylindrical,
    })
}

pub(crate) fn rotor_role(path: &str, value: &str) -> Result<RotorRole, DocumentError> {
    index(path, value, ROTOR_ROLES).map(|index| match index {
        0 => RotorRole::Single,
        1 => RotorRole::Upper,
        _ => RotorRole::Lower,
    })
}

pub(crate) fn meter(path: &str, value: &str) -> Result<MeterPlace, DocumentError> {
    index(path, value, METERS).map(|index| match index {
        0 => MeterPlace::Bus,
        string => MeterPlace::String(string - 1),
    })
}

/// The named layout; none for `free`.
pub(crate) fn layout(path: &str, value: &str) -> Result<Option<LayoutKind>, DocumentError> {
    if value == "free" {
        return Ok(None);
    }
    LayoutKind::from_key(value).map(Some).ok_or_else(|| unknown(path, value, LAYOUTS))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn regress_the_listed_layouts_are_those_of_core() {
        let keys: Vec<&str> = core::iter::once("free").chain(LayoutKind::ALL.map(LayoutKind::key)).collect();
        assert_eq!(keys, LAYOUTS);
    }
}
