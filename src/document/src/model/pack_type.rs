//! A sort of pack, as bought.

use liftmargin_core::cell::CellParams;
use liftmargin_core::charge::ChargingPack;
use liftmargin_core::supply::{Health, Pack as CorePack};
use serde::{Deserialize, Serialize};

use super::{Extra, FitnessLimits, is_zero, parts};
use crate::fields::{Word, fields, word};

/// A sort of pack, as bought. Its age is that of the packs of this sort that are not entered one by one.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct PackType {
    /// Reference for setups and packs.
    pub id: String,
    /// Shown name.
    pub name: String,
    /// `lithium-polymer`, `lithium-polymer-high-voltage` or `lithium-ion-cylindrical`.
    pub chemistry: String,
    /// Cells in series.
    pub cells_in_series: u32,
    /// Capacity when new.
    pub capacity_mah: f64,
    /// Resistance of one cell when new, 25 °C, direct current under load or as `cell_resistance_kind` says.
    pub cell_resistance_mohm: f64,
    /// `under-load` (also when missing) or `maker-1-khz`: the maker's alternating-current value, which understates sag
    /// 2.6 to 4 times; it counts `AC_FACTOR` times and carries the doubt of that (`core/cell/measure`).
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub cell_resistance_kind: String,
    /// With leads.
    pub mass_kg: f64,
    /// The maker's continuous rating.
    pub continuous_c_rating: f64,
    /// The maker's greatest charge current; absent means 1 C.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub charge_c_rating: Option<f64>,
    /// Charge cycles so far of a pack that is not entered by itself.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub cycles: u32,
    /// Measured lately; wins over cycles.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub measured_capacity_mah: Option<f64>,
    /// Measured lately; wins over cycles.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub measured_cell_resistance_mohm: Option<f64>,
    /// From where on packs of this sort are to be watched, or not fit.
    #[serde(default, skip_serializing_if = "FitnessLimits::is_usual")]
    pub fitness: FitnessLimits,
    /// Paths of the numbers that stand for want of better ones and that nobody has entered.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub assumed: Vec<String>,
    /// Of a later version.
    #[serde(flatten)]
    pub extra: Extra,
}

parts!(PackType { fitness });

fields! {
    /// A pack as bought.
    PACK_TYPE of PackType {
        CELLS_IN_SERIES = (count cells_in_series, Count, CorePack::CELLS_IN_SERIES, "Cells in series", "The number before the S on the pack.");
        CAPACITY = (capacity_mah, MilliampereHour, CellParams::CAPACITY, "Capacity", "Of the pack when new, as its maker states it.");
        PACK_MASS = (mass_kg, Kilogram, CorePack::MASS, "Pack mass", "As weighed, with leads and straps.");
        CELL_RESISTANCE = (cell_resistance_mohm, Milliohm, CellParams::RESISTANCE, "Cell resistance", "Of one cell, under load: fall in volts over rise in amps between two throttles, over the cells in series. A maker's value at 1 kHz is 2.6 to 4 times too low; say so where it is one.");
        CHARGE_C_RATING = (optional charge_c_rating, CRate, ChargingPack::CHARGE_C_RATING, "Charge rating", "Greatest charge current, as its maker states it; empty means 1 C (common practice, no source).");
        CONTINUOUS_C_RATING = (continuous_c_rating, CRate, CorePack::CONTINUOUS_C_RATING, "C rating", "Continuous discharge, as its maker states it.");
    }
}

fields! {
    /// The age of packs that are not entered one by one.
    TYPE_AGE of PackType {
        TYPE_CYCLES = (count cycles, Count, Health::CYCLES, "Cycles", "Full charges so far; an older pack holds less and sags more.");
        TYPE_MEASURED_CAPACITY = (optional measured_capacity_mah, MilliampereHour, Health::MEASURED_CAPACITY, "Measured capacity", "From a full discharge lately; wins over the cycles.");
        TYPE_MEASURED_RESISTANCE = (optional measured_cell_resistance_mohm, Milliohm, Health::MEASURED_CELL_RESISTANCE, "Measured cell resistance", "Of one cell, lately; wins over the cycles.");
    }
}

/// What the resistance of a pack type is told by.
pub static PACK_RESISTANCE_KIND: Word =
    word!(PackType, "what the cell resistance is told by", cell_resistance_kind);

/// The chemistry of a pack type.
pub static PACK_CHEMISTRY: Word = word!(PackType, "the chemistry", chemistry);
