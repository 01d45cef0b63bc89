//! A pack as the examples' formats describe it, and chargers, as core's.
//!
//! A pack: `name`?, `count`? (1: so many alike), `chemistry`, `cells_in_series`, `capacity_mah`, `cell_resistance_mohm`, `mass_kg`? (0.16 kg a cell and 6 Ah where it
//! is not told: it moves its warmth alone), `continuous_c_rating`? (20), `charge_c_rating`? (1), `cycles`?, `measured_capacity_mah`?,
//! `measured_cell_resistance_mohm`?, `rest_cell_voltage_v`? (full) or `cell_voltages_v`?, `temperature_c`? (25).

use liftmargin_core::cell::CellParams;
use liftmargin_core::charge::{Charger, ChargingPack};
use liftmargin_core::supply::{Health, Pack};
use liftmargin_core::units::{
    ElectricCharge, ElectricCurrent, ElectricPotential, ElectricalResistance, Mass, Power, Ratio,
    ThermodynamicTemperature,
};
use serde::Deserialize;
use uom::si::electric_charge::milliampere_hour;
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::milliohm;
use uom::si::mass::kilogram;
use uom::si::power::watt;
use uom::si::ratio::ratio;
use uom::si::thermodynamic_temperature::degree_celsius;

use super::of_core;
use crate::error::DocumentError;
use crate::keys;

/// Of a cell of so much capacity: common practice, no source.
const KG_PER_MAH: f64 = 0.16 / 6000.0;

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct PackAsked {
    #[serde(default)]
    pub name: String,
    #[serde(default = "one")]
    pub count: usize,
    chemistry: String,
    cells_in_series: u32,
    capacity_mah: f64,
    cell_resistance_mohm: f64,
    mass_kg: Option<f64>,
    #[serde(default = "usual_rating")]
    continuous_c_rating: f64,
    #[serde(default = "usual_charge")]
    pub charge_c_rating: f64,
    #[serde(default)]
    cycles: u32,
    measured_capacity_mah: Option<f64>,
    measured_cell_resistance_mohm: Option<f64>,
    rest_cell_voltage_v: Option<f64>,
    #[serde(default)]
    cell_voltages_v: Vec<f64>,
    #[serde(default = "room")]
    temperature_c: f64,
}

pub(super) fn one() -> usize {
    1
}

/// Packs one by one: those that stand once with a count as many times, each with its place in the text.
pub(super) fn one_by_one(packs: &[PackAsked]) -> impl Iterator<Item = (usize, &PackAsked)> {
    const MOST: usize = 500;
    packs.iter().enumerate().flat_map(|pack| core::iter::repeat_n(pack, pack.1.count.min(MOST)))
}

fn usual_rating() -> f64 {
    20.0
}

pub(super) fn usual_charge() -> f64 {
    1.0
}

fn room() -> f64 {
    25.0
}

impl PackAsked {
    /// As core's; paths below the pack.
    pub fn pack(&self) -> Result<Pack, DocumentError> {
        let pack = Pack {
            cell: CellParams {
                chemistry: keys::chemistry("chemistry", &self.chemistry)?,
                capacity: ElectricCharge::new::<milliampere_hour>(self.capacity_mah),
                resistance: ElectricalResistance::new::<milliohm>(self.cell_resistance_mohm),
                resistance_spread: Ratio::default(),
            },
            cells_in_series: self.cells_in_series,
            mass: Mass::new::<kilogram>(self.mass_kg.unwrap_or_else(|| self.usual_mass_kg())),
            continuous_c_rating: Ratio::new::<ratio>(self.continuous_c_rating),
            health: Health {
                cycles: self.cycles,
                measured_capacity: self.measured_capacity_mah.map(ElectricCharge::new::<milliampere_hour>),
                measured_cell_resistance: self
                    .measured_cell_resistance_mohm
                    .map(ElectricalResistance::new::<milliohm>),
            },
            rest_voltage: self.rest_v()?.map(ElectricPotential::new::<volt>),
            temperature: ThermodynamicTemperature::new::<degree_celsius>(self.temperature_c),
        };
        pack.validate().map_err(of_core)?;
        Ok(pack)
    }

    fn usual_mass_kg(&self) -> f64 {
        let usual = KG_PER_MAH * self.capacity_mah * f64::from(self.cells_in_series);
        if usual.is_finite() { usual.clamp(Pack::MASS.min, Pack::MASS.max) } else { Pack::MASS.min }
    }

    /// Of the whole pack: its cells one by one, or all alike.
    fn rest_v(&self) -> Result<Option<f64>, DocumentError> {
        if self.cell_voltages_v.is_empty() {
            return Ok(self.rest_cell_voltage_v.map(|cell_v| cell_v * f64::from(self.cells_in_series)));
        }
        if self.cell_voltages_v.len() != self.cells_in_series as usize {
            return Err(DocumentError::Contradiction {
                path: "cell_voltages_v".to_owned(),
                value: format!("{} cells", self.cell_voltages_v.len()),
                allowed: format!("{} cells", self.cells_in_series),
            });
        }
        if let Some(cell_v) = self.rest_cell_voltage_v {
            return Err(DocumentError::Contradiction {
                path: "rest_cell_voltage_v".to_owned(),
                value: cell_v.to_string(),
                allowed: "nothing beside cell_voltages_v".to_owned(),
            });
        }
        Ok(Some(self.cell_voltages_v.iter().sum()))
    }

    /// On a charger after a flight that used a share of its charge when full.
    pub fn charging(&self, used: f64) -> Result<ChargingPack, DocumentError> {
        Ok(ChargingPack {
            pack: self.pack()?,
            charge_c_rating: Ratio::new::<ratio>(self.charge_c_rating),
            from: Ratio::new::<ratio>(1.0 - used),
            to: Ratio::new::<ratio>(1.0),
        })
    }
}

/// A charger on its supply: no more power than the supply gives is ever asked of it.
pub(crate) fn charger_on(power_w: f64, current_a: f64, efficiency: f64, limit_w: Option<f64>) -> Charger {
    let most_w = limit_w.map_or(power_w, |limit_w| power_w.min(limit_w * efficiency));
    Charger {
        output_power: Power::new::<watt>(most_w),
        output_current: ElectricCurrent::new::<ampere>(current_a),
        efficiency: Ratio::new::<ratio>(efficiency),
    }
}
