//! The words that the file uses for kinds: each stands with its enum, here they are asked for.

use liftmargin_core::cell::Chemistry;
use liftmargin_core::frame::{LayoutKind, RotorRole};
use liftmargin_core::supply::MeterPlace;

use crate::error::DocumentError;
use crate::model::{ItemKind, SupplyKind};

/// Key of a layout that is entered place by place.
pub const FREE_LAYOUT: &str = "free";

/// Named layouts, and `free`.
pub const LAYOUTS: &[&str] = &{
    let mut keys = [FREE_LAYOUT; LayoutKind::ALL.len() + 1];
    let mut at = 0;
    while at < LayoutKind::ALL.len() {
        keys[at + 1] = LayoutKind::ALL[at].key();
        at += 1;
    }
    keys
};

/// Places of the meter.
pub const METERS: &[&str] =
    &["bus", "string-1", "string-2", "string-3", "string-4", "string-5", "string-6", "string-7", "string-8"];

/// A kind by its key.
fn known<T>(
    kind: Option<T>,
    path: &str,
    value: &str,
    allowed: &'static [&'static str],
) -> Result<T, DocumentError> {
    let unknown = || DocumentError::UnknownKey { path: path.to_owned(), value: value.to_owned(), allowed };
    kind.ok_or_else(unknown)
}

/// What a cell's resistance is told by: direct current under load, or the maker's alternating current.
pub const RESISTANCE_KINDS: &[&str] = &[UNDER_LOAD, MAKER_1_KHZ];
/// As two readings of volts and amps give it.
const UNDER_LOAD: &str = "under-load";
/// As the maker states it, alternating current at 1 kHz.
pub const MAKER_1_KHZ: &str = "maker-1-khz";

/// Whether a resistance is the maker's at 1 kHz; nothing said means under load.
pub(crate) fn is_maker_1_khz(path: &str, value: &str) -> Result<bool, DocumentError> {
    let kind = match value {
        "" | UNDER_LOAD => Some(false),
        MAKER_1_KHZ => Some(true),
        _ => None,
    };
    known(kind, path, value, RESISTANCE_KINDS)
}

pub(crate) fn chemistry(path: &str, value: &str) -> Result<Chemistry, DocumentError> {
    known(Chemistry::from_key(value), path, value, Chemistry::KEYS)
}

pub(crate) fn rotor_role(path: &str, value: &str) -> Result<RotorRole, DocumentError> {
    known(RotorRole::from_key(value), path, value, RotorRole::KEYS)
}

pub(crate) fn item_kind(path: &str, value: &str) -> Result<ItemKind, DocumentError> {
    known(ItemKind::from_key(value), path, value, ItemKind::KEYS)
}

pub(crate) fn supply_kind(path: &str, value: &str) -> Result<SupplyKind, DocumentError> {
    known(SupplyKind::from_key(value), path, value, SupplyKind::KEYS)
}

pub(crate) fn meter(path: &str, value: &str) -> Result<MeterPlace, DocumentError> {
    let place = METERS.contains(&value).then(|| MeterPlace::from_key(value)).flatten();
    known(place, path, value, METERS)
}

/// The named layout; none for `free`.
pub(crate) fn layout(path: &str, value: &str) -> Result<Option<LayoutKind>, DocumentError> {
    if value == FREE_LAYOUT {
        return Ok(None);
    }
    known(LayoutKind::from_key(value), path, value, LAYOUTS).map(Some)
}

/// What people call a layout.
pub fn layout_name(key: &str) -> &str {
    match LayoutKind::from_key(key) {
        Some(kind) => kind.name(),
        None if key == FREE_LAYOUT => "entered rotor by rotor",
        None => key,
    }
}
