//! The register of packs as people read it: fitness with its reasons, energy and transport, what to store or charge; the packs of a
//! setup matched, and checked before they are joined.

use liftmargin_core::card::card;
use liftmargin_core::charge::storage_charge;
use liftmargin_core::limits::{State, Thresholds};
use liftmargin_core::packs::{
    Fitness, FitnessReason, FitnessThresholds, JoinLimits, JoinReason, Joining, JoiningString, MatchTask,
    PackMatch, PackReading, TransportClass, fitness, join, match_packs, nominal_energy, transport_class,
};
use liftmargin_core::supply::Pack as CorePack;
use liftmargin_core::units::{ElectricPotential, ElectricalResistance, Ratio};
use uom::si::electric_charge::milliampere_hour;
use uom::si::electric_current::ampere;
use uom::si::electric_potential::{millivolt, volt};
use uom::si::electrical_resistance::milliohm;
use uom::si::energy::watt_hour;
use uom::si::power::watt;
use uom::si::ratio::{percent, ratio};

use super::bundle_day::{charge_rating, type_of};
use super::calendar::years_between;
use super::of_core;
use crate::error::DocumentError;
use crate::model::{Bundle, Pack, PackRef, PackType, Setup};
use crate::present::{Unit, Units, entry};
use crate::record::{List, Record};
use crate::resolve::{health_of_pack, pack_type, referred, resolve};

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

fn row(bundle: &Bundle, pack: &Pack, today: &str) -> PackRow {
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
    PackRow { transport: transport_words(&core), storage: storage_words(pack, core), ..told(state, reasons) }
}

fn each<T>(values: &[f64], unit: fn(f64) -> T) -> Vec<T> {
    values.iter().copied().map(unit).collect()
}

/// A pack of the register as core's, at 25 °C, its rest voltage left out.
fn core_pack(bundle: &Bundle, pack: &Pack) -> Result<CorePack, DocumentError> {
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
        TransportClass::UpTo100 => "with a passenger, spares in the cabin",
        TransportClass::UpTo160 => "by air with the operator's approval, two spares at most",
        TransportClass::Above160 => "by air as cargo only, charged to 30 % at most",
    };
    format!("{:.0} Wh: {class}", energy.get::<watt_hour>().ceil())
}

fn storage_words(pack: &Pack, core: CorePack) -> String {
    let Some(mean_v) = mean(&pack.cell_voltages_v) else { return String::new() };
    let rest_voltage = Some(ElectricPotential::new::<volt>(mean_v * f64::from(core.cells_in_series)));
    let rested = CorePack { rest_voltage, ..core };
    let to = ElectricPotential::new::<volt>(STORAGE_CELL_V);
    match storage_charge(&rested, to) {
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

fn mean(values: &[f64]) -> Option<f64> {
    (!values.is_empty()).then(|| values.iter().sum::<f64>() / values.len() as f64)
}

/// Packs of the register that may be matched for a setup: still flown, fit or to be watched, of the type that it flies.
fn candidates<'a>(bundle: &'a Bundle, of: &str, today: &str) -> Vec<&'a Pack> {
    let fits = |pack: &&Pack| {
        pack.pack_type == of && row(bundle, pack, today).state.is_some_and(|state| state != State::No)
    };
    bundle.packs.iter().filter(fits).collect()
}

/// A setup's packs matched out of the register.
#[derive(Debug, Clone, PartialEq)]
pub struct SetupMatch {
    /// Pack ids, string by string.
    pub strings: Vec<Vec<String>>,
    /// Their labels.
    pub labels: Vec<Vec<String>>,
    /// `+350 mAh, +18 s against taking them in order`.
    pub gained: String,
}

/// The best strings for a setup, at its hover power.
///
/// # Errors
/// A fault of the setup, or too few packs.
pub fn match_for(bundle: &Bundle, setup_id: &str, today: &str) -> Result<SetupMatch, DocumentError> {
    let (_, setup) = referred::<Setup>(bundle, "setup", setup_id)?;
    let strings = setup.supply.strings.len();
    let first = setup.supply.strings.first();
    let series = first.map_or(0, |string| string.packs.len());
    let wanted = first.and_then(|string| string.packs.first()).and_then(|pack| type_of(bundle, pack));
    let wanted = wanted.map_or_else(String::new, |of| of.id.clone());
    let packs = candidates(bundle, &wanted, today);
    // The power does not hang on which of the alike packs are on board; those that cannot fly do not hide it.
    let (ready, site) = resolve(&with_types(bundle, setup_id), setup_id)?;
    let own = card(&ready, &site, &Thresholds::default()).map_err(of_core)?;
    let auxiliary = ready.supply.auxiliary_power / ready.supply.converter_efficiency;
    let task = MatchTask {
        packs: packs.iter().filter_map(|pack| rested(bundle, pack).ok()).collect(),
        strings,
        series,
        string_resistance: ready.supply.string_resistance,
        bus_resistance: ready.supply.bus_resistance,
        power: own.hover.power + auxiliary,
        policy: ready.policy,
    };
    let found = match_packs(&task).map_err(of_core)?;
    let name = |of: fn(&Pack) -> &String| -> Vec<Vec<String>> {
        let own = |place: &usize| packs.get(*place).map(|pack| of(pack).clone()).unwrap_or_default();
        found.best.strings.iter().map(|string| string.iter().map(own).collect()).collect()
    };
    Ok(SetupMatch { strings: name(|pack| &pack.id), labels: name(|pack| &pack.name), gained: gained(&found) })
}

/// The bundle with any pack of its type in the place of each single pack of a setup.
fn with_types(bundle: &Bundle, setup_id: &str) -> Bundle {
    let mut plain = bundle.clone();
    let of = |pack: &PackRef| type_of(bundle, pack).map(|of| PackRef::Type(of.id.clone()));
    if let Some(setup) = Setup::find_mut(&mut plain, setup_id) {
        for pack in setup.supply.strings.iter_mut().flat_map(|string| &mut string.packs) {
            *pack = of(pack).unwrap_or_default();
        }
    }
    plain
}

/// A pack with the rest voltage of its cells; full where none is read.
fn rested(bundle: &Bundle, pack: &Pack) -> Result<CorePack, DocumentError> {
    let mut core = core_pack(bundle, pack)?;
    core.rest_voltage = mean(&pack.cell_voltages_v)
        .map(|mean_v| ElectricPotential::new::<volt>(mean_v * f64::from(core.cells_in_series)));
    core.validate().map_err(of_core)?;
    Ok(core)
}

/// Rounded down: what is promised is there.
fn gained(found: &PackMatch) -> String {
    let mah = (found.best.usable - found.in_order.usable).get::<milliampere_hour>();
    let seconds = (found.best.time - found.in_order.time).value;
    let (mah, seconds) = ((mah / 50.0).floor() * 50.0, seconds.floor());
    let how = if found.is_exact { "the best of all arrangements" } else { "the best found" };
    if mah > 0.0 {
        format!("+{mah:.0} mAh, +{seconds:.0} s against taking them in order: {how}")
    } else {
        format!("no better than taking them in order: {how}")
    }
}

/// Puts matched packs on board of a setup.
pub fn fly_these(bundle: &mut Bundle, setup_id: &str, strings: &[Vec<String>]) {
    let Some(setup) = Setup::find_mut(bundle, setup_id) else { return };
    for (string, packs) in setup.supply.strings.iter_mut().zip(strings) {
        string.packs = packs.iter().cloned().map(PackRef::Pack).collect();
    }
}

/// What a joining comes to, in words.
#[derive(Debug, Clone, PartialEq)]
pub struct JoinWords {
    /// `Fine`: join.
    pub verdict: State,
    /// `Do not join`, and why.
    pub words: String,
    /// String, rest voltage, current, what to charge.
    pub rows: Vec<Vec<String>>,
}

/// Whether the strings of a setup may be joined, by the rest voltages of the register.
///
/// # Errors
/// A fault of the setup.
pub fn join_for(bundle: &Bundle, setup_id: &str) -> Result<JoinWords, DocumentError> {
    let (_, setup) = referred::<Setup>(bundle, "setup", setup_id)?;
    let (ready, _) = resolve(bundle, setup_id)?;
    let rating = |index: usize| {
        let packs = setup.supply.strings.get(index).map_or(&[][..], |string| &string.packs);
        packs.iter().filter_map(|pack| type_of(bundle, pack)).map(charge_rating).fold(f64::INFINITY, f64::min)
    };
    let joining = |(index, string): (usize, &liftmargin_core::supply::PackString)| JoiningString {
        string: string.clone(),
        charge_c_rating: Ratio::new::<ratio>(if rating(index).is_finite() { rating(index) } else { 1.0 }),
        leads: ready.supply.string_resistance,
    };
    let strings: Vec<JoiningString> = ready.supply.strings.iter().enumerate().map(joining).collect();
    let joined = join(&strings, &JoinLimits::default()).map_err(of_core)?;
    Ok(JoinWords { verdict: joined.verdict, words: join_words(&joined), rows: join_rows(&joined) })
}

fn join_words(joined: &Joining) -> String {
    let current = format!(
        "{:.0} A would flow at the first moment, {:.0} W of heat",
        joined.equalising_current.get::<ampere>().ceil(),
        joined.heat.get::<watt>().ceil()
    );
    let reasons: Vec<String> = joined.reasons.iter().map(|(_, reason)| join_reason(reason)).collect();
    let why = if reasons.is_empty() { String::new() } else { format!(": {}", reasons.join("; ")) };
    match joined.verdict {
        State::Fine => format!("They match. {current}."),
        State::Watch => format!("They may be joined, with little in hand{why}. {current}."),
        State::No => format!("Do not join{why}. {current}."),
    }
}

fn join_reason(reason: &JoinReason) -> String {
    match reason {
        JoinReason::UnequalCells { string } => format!("string {} has another number of cells", string + 1),
        JoinReason::UnlikeChemistry { string } => format!("string {} is of another chemistry", string + 1),
        JoinReason::CellDifference { difference } => {
            format!("cells are {:.0} mV apart", difference.get::<millivolt>())
        }
        JoinReason::ChargeCurrent { string, limit } => {
            format!("string {} may be charged with {:.0} A", string + 1, limit.get::<ampere>().floor())
        }
        JoinReason::DischargeCurrent { string, limit } => {
            format!("string {} may give {:.0} A", string + 1, limit.get::<ampere>().floor())
        }
        JoinReason::TooCold { string } => format!("string {} is too cold to be charged", string + 1),
    }
}

fn join_rows(joined: &Joining) -> Vec<Vec<String>> {
    let row = |(index, string): (usize, &liftmargin_core::packs::JoinedString)| {
        let current_a = string.current.get::<ampere>();
        let flows = if current_a < -0.05 {
            format!("{:.1} A in", -current_a)
        } else {
            format!("{current_a:.1} A out")
        };
        let charge: Vec<String> =
            string.charge.iter().map(|charge| format!("{:.0}", charge.get::<milliampere_hour>())).collect();
        let is_high = string.charge.iter().all(|charge| charge.get::<milliampere_hour>() < 10.0);
        let to =
            format!("{} mAh\nto {:.2} V a cell", charge.join(" + "), string.charge_to_cell.get::<volt>());
        let to = if is_high { "nothing".to_owned() } else { to };
        vec![
            format!("String {}", index + 1),
            format!("{:.2} V", string.rest_voltage.get::<volt>()),
            flows,
            to,
        ]
    };
    joined.strings.iter().enumerate().map(row).collect()
}

/// A landing: each single pack on board has one more cycle, and its cells' voltages are no longer known.
pub fn count_landing(bundle: &mut Bundle, setup_id: &str) {
    let Some((_, setup)) = Setup::find(bundle, setup_id) else { return };
    let flown: Vec<PackRef> = setup.supply.strings.iter().flat_map(|string| string.packs.clone()).collect();
    for pack in flown {
        if let PackRef::Pack(id) = pack
            && let Some(pack) = Pack::find_mut(bundle, &id)
        {
            pack.cycles = pack.cycles.saturating_add(1);
            pack.cell_voltages_v.clear();
        }
    }
}

/// Readings of a cell that a crew enters one after another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CellReading {
    /// Rest voltages.
    Voltage,
    /// Resistances.
    Resistance,
}

impl CellReading {
    /// The readings of a pack.
    pub fn of(self, pack: &Pack) -> &[f64] {
        match self {
            Self::Voltage => &pack.cell_voltages_v,
            Self::Resistance => &pack.cell_resistances_mohm,
        }
    }

    /// A typed reading in the file's unit.
    ///
    /// # Errors
    /// Why it is none, in words.
    pub fn typed(self, text: &str, units: Units) -> Result<f64, String> {
        let (range, unit) = match self {
            Self::Voltage => (&PackReading::CELL_VOLTAGE, Unit::Volt),
            Self::Resistance => (&PackReading::CELL_RESISTANCE, Unit::Milliohm),
        };
        let si = entry::parse(text, range, units).map_err(|fault| fault.words(range, units))?;
        // As typed: a conversion there and back leaves digits that nobody wrote.
        Ok((unit.from_si(si) * 1e6).round() / 1e6)
    }

    /// Puts the reading of a cell; cells between are as it.
    pub fn put(self, pack: &mut Pack, cell: usize, value: f64) {
        let readings = match self {
            Self::Voltage => &mut pack.cell_voltages_v,
            Self::Resistance => &mut pack.cell_resistances_mohm,
        };
        if cell >= readings.len() {
            readings.resize(cell + 1, value);
        }
        if let Some(place) = readings.get_mut(cell) {
            *place = value;
        }
    }
}

/// Cells of a pack, by its type.
pub fn cells_of(bundle: &Bundle, pack_id: &str) -> usize {
    let of = Pack::find(bundle, pack_id).and_then(|(_, pack)| PackType::find(bundle, &pack.pack_type));
    of.map_or(0, |(_, of)| of.cells_in_series as usize)
}

/// The label that comes after the last one: `A7` after `A6`.
pub fn next_label(bundle: &Bundle) -> String {
    let last = List::Packs.names(bundle).pop().map_or_else(|| "Pack 0".to_owned(), |(_, name)| name);
    let digits = last.chars().rev().take_while(char::is_ascii_digit).count();
    let (stem, number) = last.split_at(last.len() - digits);
    let width = number.len();
    match number.parse::<u32>() {
        Ok(number) => format!("{stem}{:0width$}", number + 1),
        Err(_) => format!("{last} 2"),
    }
}
