//! From where on packs of a type are to be watched, or not fit to fly. What is left out is common practice, no source.

use liftmargin_core::packs::FitnessThresholds;
use serde::{Deserialize, Serialize};

use super::{Extra, PackType, parts};
use crate::fields::fields;

/// A crew's own limits for packs of a type.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[allow(missing_docs, reason = "each field's row below says what it is")]
pub struct FitnessLimits {
    #[serde(skip_serializing_if = "Option::is_none")]
    pub capacity_watch_percent: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub capacity_least_percent: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub resistance_watch: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub resistance_most: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub voltage_watch_v: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub voltage_most_v: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub imbalance_watch_v: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub imbalance_most_v: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub age_watch_years: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cycles_watch: Option<f64>,
    /// Of a later version.
    #[serde(flatten)]
    pub extra: Extra,
}

impl FitnessLimits {
    /// Left out of the file where nothing is chosen.
    pub(crate) fn is_usual(&self) -> bool {
        *self == Self::default()
    }
}

parts!(FitnessLimits {});

fields! {
    /// From where on a pack of a type is to be watched, or not fit.
    FITNESS of PackType {
        FIT_CAPACITY_WATCH = (optional fitness.capacity_watch_percent, Percent, FitnessThresholds::CAPACITY, "Capacity: watch below", "Of new. Empty means 80 %: common practice, no source.");
        FIT_CAPACITY_LEAST = (optional fitness.capacity_least_percent, Percent, FitnessThresholds::CAPACITY, "Capacity: not fit below", "Of new. Empty means 70 %: common practice, no source.");
        FIT_RESISTANCE_WATCH = (optional fitness.resistance_watch, One, FitnessThresholds::CELL_RESISTANCE, "A cell's resistance: watch from", "Times the middle one of its sisters. Empty means 1.3: common practice, no source.");
        FIT_RESISTANCE_MOST = (optional fitness.resistance_most, One, FitnessThresholds::CELL_RESISTANCE, "A cell's resistance: not fit from", "Times the middle one of its sisters. Empty means 1.6: common practice, no source.");
        FIT_VOLTAGE_WATCH = (optional fitness.voltage_watch_v, Volt, FitnessThresholds::CELL_VOLTAGE, "A cell off its sisters: watch from", "At rest. Empty means 0.02 V: common practice, no source.");
        FIT_VOLTAGE_MOST = (optional fitness.voltage_most_v, Volt, FitnessThresholds::CELL_VOLTAGE, "A cell off its sisters: not fit from", "At rest. Empty means 0.05 V: common practice, no source.");
        FIT_IMBALANCE_WATCH = (optional fitness.imbalance_watch_v, Volt, FitnessThresholds::CELL_VOLTAGE, "Highest less lowest cell: watch from", "At rest. Empty means 0.03 V: common practice, no source.");
        FIT_IMBALANCE_MOST = (optional fitness.imbalance_most_v, Volt, FitnessThresholds::CELL_VOLTAGE, "Highest less lowest cell: not fit from", "At rest. Empty means 0.10 V: common practice, no source.");
        FIT_AGE = (optional fitness.age_watch_years, One, FitnessThresholds::AGE, "Years: watch from", "Since it was bought. Empty means 3: common practice, no source.");
        FIT_CYCLES = (optional fitness.cycles_watch, One, FitnessThresholds::CYCLES, "Cycles: watch from", "Empty means 300: common practice, no source.");
    }
}
