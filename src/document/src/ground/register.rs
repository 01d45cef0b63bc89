//! The register of packs as people read it: fitness with its reasons, energy and transport, what to store or charge.

use liftmargin_core::charge::{ChargeSettings, ChargingPack, charge, storage_charge};
use liftmargin_core::limits::State;
use liftmargin_core::packs::{
    Fitness, FitnessReason, FitnessThresholds, PackReading, TransportClass, fitness, nominal_energy,
    transport_class,
};
use liftmargin_core::supply::Pack as CorePack;
use liftmargin_core::units::{ElectricPotential, ElectricalResistance, Ratio};
use uom::si::electric_charge::milliampere_hour;
use uom::si::electric_potential::{millivolt, volt};
use uom::si::electrical_resistance::milliohm;
use uom::si::energy::watt_hour;
use uom::si::ratio::{percent, ratio};

use super::bundle_day::charge_rating;
use super::calendar::years_between;
use super::charger_on;
use crate::error::DocumentError;
use crate::model::{Bundle, Pack, PackType};
use crate::record::Record;
use crate::resolve::{health_of_pack, pack_type, referred};

/// Rest voltage of a stored cell, V: common practice, no source.
pub const STORAGE_CELL_V: f64 = 3.80;

/// One pack of the register as a screen shows it.
#[derive(Debug, Clone, PartialEq)]
pub struct PackRow {
    /// Its id.
    pub id: String,
    /// Its label.
    pub name: String,
    /// How it stands; none where it cannot be told.
    pub state: Option<State>,
    /// `fit`, or each reason; why it cannot be told.
    pub reasons: Vec<String>,
    /// `155 Wh, with the operator's approval`.
    pub transport: String,
    /// `charge 1,250 mAh for storage`; empty without a rest voltage.
    pub storage: String,
}

/// All packs of the register; `today` as `2026-04-30`.
pub fn rows(bundle: &Bundle, today: &str) -> Vec<PackRow> {
    bundle.packs.iter().map(|pack| row(bundle, pack, today)).collect()
}

pub(super) fn row(bundle: &Bundle, pack: &Pack, today: &str) -> PackRow {
    let told = |state, reasons| PackRow {
        id: pack.id.clone(),
        name: pack.name.clone(),
        state,
        reasons,
        transport: String::new(),
        storage: String::new(),
    };
    if pack.retired {
        return told(None, vec!["retired".to_owned()]);
    }
    let core = match core_pack(bundle, pack) {
        Ok(core) => core,
        Err(fault) => return told(None, vec![fault.to_string()]),
    };
    let reading = PackReading {
        pack: core,
        cell_resistances: each(&pack.cell_resistances_mohm, ElectricalResistance::new::<milliohm>),
        cell_voltages: each(&pack.cell_voltages_v, ElectricPotential::new::<volt>),
        age_years: years_between(&pack.bought, today).map(Ratio::new::<ratio>),
    };
    let (state, reasons) = match fitness(&reading, &FitnessThresholds::default()) {
        Ok(found) => (Some(found.state), reason_words(&found)),
        Err(refusal) => (None, vec![refusal.to_string()]),
    };
    PackRow {
        transport: transport_words(&core),
        storage: rest_words(bundle, pack, core),
        ..told(state, reasons)
    }
}

fn each<T>(values: &[f64], unit: fn(f64) -> T) -> Vec<T> {
    values.iter().copied().map(unit).collect()
}

/// A pack of the register as core's, at 25 °C, its rest voltage left out.
pub(super) fn core_pack(bundle: &Bundle, pack: &Pack) -> Result<CorePack, DocumentError> {
    let (_, of) = referred::<PackType>(bundle, "pack_type", &pack.pack_type)?;
    let mut core = pack_type(of)?;
    core.health = health_of_pack(pack)?;
    core.temperature = liftmargin_core::units::ThermodynamicTemperature::new::<
        uom::si::thermodynamic_temperature::degree_celsius,
    >(25.0);
    Ok(core)
}

/// Each reason once: cells with the same one stand together.
fn reason_words(found: &Fitness) -> Vec<String> {
    if found.reasons.is_empty() {
        return vec![format!("fit, {:.0} % of new", (found.capacity_share.get::<percent>() + 1e-6).floor())];
    }
    found.reasons.iter().map(|(_, reason)| one_reason(reason)).collect()
}

fn one_reason(reason: &FitnessReason) -> String {
    match reason {
        FitnessReason::Capacity { share } => {
            format!("holds {:.0} % of new", (share.get::<percent>() + 1e-6).floor())
        }
        FitnessReason::CellResistance { cell, share } => {
            format!("cell {} resists {:.1} times its sisters", cell + 1, share.get::<ratio>())
        }
        FitnessReason::CellVoltage { cell, off } => {
            format!("cell {} is {:+.0} mV off its sisters", cell + 1, off.get::<millivolt>())
        }
        FitnessReason::Imbalance { spread } => {
            format!("cells {:.0} mV apart", spread.get::<millivolt>())
        }
        FitnessReason::Empty { cell, voltage } => {
            format!("cell {} at {:.2} V is below empty: do not charge", cell + 1, voltage.get::<volt>())
        }
        FitnessReason::Overcharged { cell, voltage } => {
            format!("cell {} at {:.2} V is above full", cell + 1, voltage.get::<volt>())
        }
        FitnessReason::Age { years } => format!("{:.1} years old", years.get::<ratio>()),
        FitnessReason::Cycles { cycles } => format!("{cycles} cycles"),
    }
}

fn transport_words(pack: &CorePack) -> String {
    let energy = nominal_energy(pack);
    let class = match transport_class(energy) {
        TransportClass::UpTo100 => "with a passenger, spares in the cabin".to_owned(),
        TransportClass::UpTo160 => "by air with the operator's approval, two spares at most".to_owned(),
        TransportClass::Above160 => {
            let most = TransportClass::greatest_charge_as_cargo().get::<percent>();
            format!("by air as cargo only, charged to {most:.0} % at most")
        }
    };
    format!("{:.0} Wh: {class}", energy.get::<watt_hour>().ceil())
}

/// What the pack needs, by its rest voltage: for storage, and to be full.
fn rest_words(bundle: &Bundle, pack: &Pack, core: CorePack) -> String {
    let Some(mean_v) = mean(&pack.cell_voltages_v) else { return String::new() };
    let rest_voltage = Some(ElectricPotential::new::<volt>(mean_v * f64::from(core.cells_in_series)));
    let rested = CorePack { rest_voltage, ..core };
    let words = [storage_words(&rested), charge_words(bundle, pack, &rested)];
    words.into_iter().filter(|words| !words.is_empty()).collect::<Vec<_>>().join(", ")
}

/// `full in 48 min`, alone on a charger of the first day, else on one of 1,200 W and 20 A.
fn charge_words(bundle: &Bundle, pack: &Pack, rested: &CorePack) -> String {
    let rating = PackType::find(bundle, &pack.pack_type).map_or(1.0, |(_, of)| charge_rating(of));
    let charger = bundle.day_plans.first().map_or_else(
        || charger_on(1200.0, 20.0, 0.87, None),
        |day| {
            charger_on(
                day.charger_power_w,
                day.charger_current_a,
                day.charger_efficiency_percent / 100.0,
                day.supply_limit_w,
            )
        },
    );
    let Ok(from) = rested.state_of_charge() else { return String::new() };
    let to = Ratio::new::<ratio>(1.0);
    let charging = ChargingPack { pack: *rested, charge_c_rating: Ratio::new::<ratio>(rating), from, to };
    match charge(&[charging], &charger, &ChargeSettings::default()) {
        Ok(course) if course.duration.value > 0.0 => {
            format!("full in {:.0} min", (course.duration.value / 60.0).ceil())
        }
        _ => String::new(),
    }
}

fn storage_words(rested: &CorePack) -> String {
    let to = ElectricPotential::new::<volt>(STORAGE_CELL_V);
    match storage_charge(rested, to) {
        Err(_) => String::new(),
        Ok(need) => {
            let mah = need.charge.get::<milliampere_hour>();
            let steps = (mah.abs() / 50.0).round() * 50.0;
            match (steps < 50.0, mah > 0.0) {
                (true, _) => "at storage charge".to_owned(),
                (false, true) => format!("charge {steps:.0} mAh for storage"),
                (false, false) => format!("take out {steps:.0} mAh for storage"),
            }
        }
    }
}

pub(super) fn mean(values: &[f64]) -> Option<f64> {
    (!values.is_empty()).then(|| values.iter().sum::<f64>() / values.len() as f64)
}
