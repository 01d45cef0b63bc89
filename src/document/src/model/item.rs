//! One thing of payload.

use liftmargin_core::mass::Item as CoreItem;
use serde::{Deserialize, Serialize};

use super::{Extra, parts};
use crate::fields::{Field, Word, fields, word};

liftmargin_core::keyed! {
    /// Items of one kind can be swapped.
    pub enum ItemKind {
        /// Holds the camera level.
        Stabiliser = "stabiliser",
        /// A camera body.
        Camera = "camera",
        /// A lens.
        Lens = "lens",
        /// Picture, sound or control by radio.
        Radio = "radio",
        /// Anything else.
        Other = "other",
    }
}

/// One thing of payload.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Item {
    /// Reference for setups.
    pub id: String,
    /// Shown name.
    pub name: String,
    /// `stabiliser`, `camera`, `lens`, `radio` or `other`: items of one kind can be swapped.
    pub kind: String,
    /// Mass.
    pub mass_kg: f64,
    /// Forward, right, down of the rotor centre.
    #[serde(default)]
    pub position_m: [f64; 3],
    /// Drawn from the flight packs.
    #[serde(default)]
    pub power_w: f64,
    /// Of a later version.
    #[serde(flatten)]
    pub extra: Extra,
}

parts!(Item {});

fields! {
    /// What an item weighs.
    ITEM_WEIGHT of Item {
        ITEM_MASS = (mass_kg, Kilogram, CoreItem::MASS, "Mass", "As weighed, with plates, cables and cards.");
    }
}

fields! {
    /// What an item draws, and where it hangs.
    ITEM of Item {
        ITEM_POWER = (power_w, Watt, CoreItem::POWER, "Power draw", "Taken from the flight packs; 0 if it has a battery of its own.");
        ITEM_FORWARD = (axis 0 of position_m, "Position, forward", "Of the rotor centre.");
        ITEM_RIGHT = (axis 1 of position_m, "Position, to the right", "Of the rotor centre.");
        ITEM_DOWN = (axis 2 of position_m, "Position, down", "Of the rotor centre; a payload hangs below, so down is positive.");
    }
}

/// What kind of payload an item is.
pub static ITEM_KIND: Word = word!(Item, "the kind", kind);

/// The three together.
pub(crate) static ITEM_AXES: [&Field<Item>; 3] = [&ITEM_FORWARD, &ITEM_RIGHT, &ITEM_DOWN];
