//! The register of packs as people read it: fitness with its reasons, energy and transport, what to store or charge.

use liftmargin_core::charge::{ChargeRule, ChargeSettings, ChargingPack, charge, storage_charge};
use liftmargin_core::limits::State;
use liftmargin_core::packs::{
    Fitness, FitnessReason, PackReading, TransportClass, fitness, nominal_energy, transport_class,
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
use super::{charger_on, of_core};
use crate::error::DocumentError;
use crate::model::{Bundle, Pack, PackType};
use crate::record::Record;
use crate::resolve::{counted_at, fitness_thresholds, health_of_pack, pack_type, referred, rest_by_use};

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
    let of = PackType::find(bundle, &pack.pack_type).map(|(_, of)| of);
    // Checked with the type above.
    let thresholds = of.and_then(|of| fitness_thresholds(of).ok()).unwrap_or_default();
    let (state, reasons) = match fitness(&reading, &thresholds) {
        Ok(found) => (Some(found.state), reason_words(&found)),
        Err(refusal) => (None, vec![refusal.to_string()]),
    };
    PackRow { transport: transport_words(&core), storage: rest_words(bundle, pack), ..told(state, reasons) }
}

fn each<T>(values: &[f64], unit: fn(f64) -> T) -> Vec<T> {
    values.iter().copied().map(unit).collect()
}

/// A pack of the register as core's, at 25 °C, its rest voltage left out.
pub(super) fn core_pack(bundle: &Bundle, pack: &Pack) -> Result<CorePack, DocumentError> {
    let (_, of) = referred::<PackType>(bundle, "pack_type", &pack.pack_type)?;
    let mut core = pack_type(of)?;
    core.health = health_of_pack(pack)?;
    core.temperature = counted_at();
    Ok(core)
}

/// A pack as it lies there: by the mean rest voltage of its cells, else by what its landings took out of it, else full.
pub(super) fn rested(bundle: &Bundle, pack: &Pack) -> Result<CorePack, DocumentError> {
    let mut core = core_pack(bundle, pack)?;
    let by_cells = mean(&pack.cell_voltages_v);
    core.rest_voltage = match by_cells {
        Some(cell_v) => Some(ElectricPotential::new::<volt>(cell_v * f64::from(core.cells_in_series))),
        None => rest_by_use(pack, &core)?,
    };
    core.validate().map_err(of_core)?;
    Ok(core)
}

/// Whether a landing took something out of it that was not charged again.
pub fn is_flown_since_charged(pack: &Pack) -> bool {
    pack.used_mah.is_some_and(|used_mah| used_mah > 0.0)
}

/// Packs are full: nothing is taken out, and what their cells showed before no longer holds.
pub fn set_charged(bundle: &mut Bundle, is_meant: impl Fn(&Pack) -> bool) {
    for pack in bundle.packs.iter_mut().filter(|pack| !pack.retired && is_meant(pack)) {
        pack.used_mah = None;
        pack.cell_voltages_v.clear();
    }
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

/// What is in the pack and what it needs, by its rest voltage or its landings: for storage, and to be full.
fn rest_words(bundle: &Bundle, pack: &Pack) -> String {
    let Ok(rested) = rested(bundle, pack) else { return String::new() };
    if rested.rest_voltage.is_none() {
        return String::new();
    }
    let words = [left_words(pack, &rested), storage_words(&rested), charge_words(bundle, pack, &rested)];
    words.into_iter().filter(|words| !words.is_empty()).collect::<Vec<_>>().join(", ")
}

/// `5,150 mAh taken out, 26 % left`, rounded to the safe side; empty where its cells were read since.
fn left_words(pack: &Pack, rested: &CorePack) -> String {
    match (pack.used_mah, pack.cell_voltages_v.is_empty(), rested.state_of_charge()) {
        (Some(used_mah), true, Ok(left)) => format!(
            "{:.0} mAh taken out, {:.0} % left",
            (used_mah / 50.0).ceil() * 50.0,
            (left.get::<percent>() + 1e-6).floor()
        ),
        _ => String::new(),
    }
}

/// What charging times are reckoned with: each pack alone on a charger of the first day, else on one of 1,200 W and 20 A.
pub fn charger_words(bundle: &Bundle) -> String {
    let of = |watts: f64, amperes: f64| {
        format!("a charger of {watts:.0}\u{a0}W and {amperes:.0}\u{a0}A a channel")
    };
    let (charger, whose) = match bundle.day_plans.first() {
        Some(day) => {
            (of(day.charger_power_w, day.charger_current_a), format!(", as on the day “{}”", day.name))
        }
        None => (of(USUAL_W, USUAL_A), ": enter your own on Day".to_owned()),
    };
    format!("Times to full: each pack alone on {charger}{whose}, within its charge rating.")
}

const USUAL_W: f64 = 1200.0;
const USUAL_A: f64 = 20.0;

/// What holds the current of a charge.
const fn ruled_by(rule: ChargeRule) -> &'static str {
    match rule {
        ChargeRule::ChargerPower => " by charger power",
        ChargeRule::ChargerCurrent => " by charger current",
        ChargeRule::PackRating => " by its charge rating",
        ChargeRule::FullVoltage | ChargeRule::Nothing => "",
    }
}

/// `full in 48 min by its charge rating`.
fn charge_words(bundle: &Bundle, pack: &Pack, rested: &CorePack) -> String {
    let rating = PackType::find(bundle, &pack.pack_type).map_or(1.0, |(_, of)| charge_rating(of));
    let charger = bundle.day_plans.first().map_or_else(
        || charger_on(USUAL_W, USUAL_A, 0.87, None),
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
            let minutes = (course.duration.value / 60.0).ceil();
            format!("full in {minutes:.0} min{}", ruled_by(course.ruled_by))
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
