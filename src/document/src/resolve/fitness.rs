//! A crew's limits for packs of a type as core's; what is left out is the usual.

use liftmargin_core::packs::FitnessThresholds;
use liftmargin_core::units::{ElectricPotential, Ratio};
use uom::si::electric_potential::volt;
use uom::si::ratio::ratio;

use crate::error::DocumentError;
use crate::fields::Field;
use crate::model::{PackType, numbers as n};

/// Limits of a type; paths below it.
///
/// # Errors
/// `Refused` out of range.
pub fn fitness_thresholds(of: &PackType) -> Result<FitnessThresholds, DocumentError> {
    let usual = FitnessThresholds::default();
    let share = |field: &'static Field<PackType>, usual: Ratio| {
        Ok::<_, DocumentError>(field.si_if_there(of)?.map_or(usual, Ratio::new::<ratio>))
    };
    let volts = |field: &'static Field<PackType>, usual: ElectricPotential| {
        Ok::<_, DocumentError>(field.si_if_there(of)?.map_or(usual, ElectricPotential::new::<volt>))
    };
    let [capacity_watch, capacity_no] = usual.capacity;
    let [resistance_watch, resistance_no] = usual.cell_resistance;
    let [voltage_watch, voltage_no] = usual.cell_voltage;
    let [imbalance_watch, imbalance_no] = usual.imbalance;
    Ok(FitnessThresholds {
        capacity: [
            share(&n::FIT_CAPACITY_WATCH, capacity_watch)?,
            share(&n::FIT_CAPACITY_LEAST, capacity_no)?,
        ],
        cell_resistance: [
            share(&n::FIT_RESISTANCE_WATCH, resistance_watch)?,
            share(&n::FIT_RESISTANCE_MOST, resistance_no)?,
        ],
        cell_voltage: [
            volts(&n::FIT_VOLTAGE_WATCH, voltage_watch)?,
            volts(&n::FIT_VOLTAGE_MOST, voltage_no)?,
        ],
        imbalance: [
            volts(&n::FIT_IMBALANCE_WATCH, imbalance_watch)?,
            volts(&n::FIT_IMBALANCE_MOST, imbalance_no)?,
        ],
        age_years: share(&n::FIT_AGE, usual.age_years)?,
        cycles: share(&n::FIT_CYCLES, usual.cycles)?,
    })
}
