//! One pack, by the label on it.

use liftmargin_core::cell::CellParams;
use liftmargin_core::input_range::{InputRange, Kind};
use liftmargin_core::supply::Health;
use serde::{Deserialize, Serialize};

use super::{Extra, is_zero, parts};
use crate::fields::{Word, fields, word};

/// One pack, by the label on it.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Pack {
    /// Reference for setups.
    pub id: String,
    /// The label on it.
    pub name: String,
    /// Pack type id.
    pub pack_type: String,
    /// Charge cycles so far.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub cycles: u32,
    /// Measured lately; wins over cycles.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub measured_capacity_mah: Option<f64>,
    /// Measured lately; wins over cycles.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub measured_cell_resistance_mohm: Option<f64>,
    /// Resistance of each cell, as measured.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub cell_resistances_mohm: Vec<f64>,
    /// Rest voltage of each cell, as measured.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub cell_voltages_v: Vec<f64>,
    /// Taken out since it was full, counted by landings; absent: full, or as its cells' rest voltages say.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub used_mah: Option<f64>,
    /// Day of the readings of the cells, `2026-04-30`.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub measured: String,
    /// Day it was bought, `2026-04-30`, in the crew's words where they know no more.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub bought: String,
    /// What the crew wants to remember of it.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub remark: String,
    /// No longer flown.
    #[serde(default, skip_serializing_if = "core::ops::Not::not")]
    pub retired: bool,
    /// Of a later version.
    #[serde(flatten)]
    pub extra: Extra,
}

parts!(Pack {});

static USED: InputRange = InputRange::new("taken_out", Kind::Charge, 0.0, CellParams::CAPACITY.max);

fields! {
    /// The age of a pack.
    PACK of Pack {
        PACK_CYCLES = (count cycles, Count, Health::CYCLES, "Cycles", "Full charges so far; an older pack holds less and sags more.");
        PACK_MEASURED_CAPACITY = (optional measured_capacity_mah, MilliampereHour, Health::MEASURED_CAPACITY, "Measured capacity", "From a full discharge lately; wins over the cycles.");
        PACK_MEASURED_RESISTANCE = (optional measured_cell_resistance_mohm, Milliohm, Health::MEASURED_CELL_RESISTANCE, "Measured cell resistance", "Of one cell, lately; wins over the cycles.");
        PACK_USED = (optional used_mah, MilliampereHour, USED, "Taken out since full", "Counted by landings; empty means fully charged. Rest voltages of its cells win over it.");
    }
}

/// Of which type a pack is.
pub static PACK_TYPE_OF_PACK: Word = word!(Pack, "the type of the pack", pack_type);
