//! A day of the crew's file as core's: setups bring their flight time and what it takes out of the packs.
//!
//! A flight is as long as the card's longest from motor start to land-by with full packs, whatever is in them now, unless the plan
//! says less: then it takes its share of that charge. Setups whose strings hold the same types of pack share their sets.

use liftmargin_core::card::{Card, Outcome, Setup, card};
use liftmargin_core::charge::{ChargeSettings, ChargingPack, charge};
use liftmargin_core::day::{DayFlight, DayPlan as CoreDay, SetKind};
use liftmargin_core::limits::Thresholds;
use liftmargin_core::units::{Power, Ratio, Time};
use uom::si::power::watt;
use uom::si::ratio::ratio;
use uom::si::time::second;

use super::charger_on;
use super::clock;
use super::day_report::PlannedDay;
use super::of_core;
use crate::error::DocumentError;
use crate::keys;
use crate::model::{self, Bundle, DayPlan, PackRef, PackType, WantedFlight, numbers as n};
use crate::quantity::refused;
use crate::record::{List, Record};
use crate::resolve::{referred, resolve};

/// What a setup's longest flight takes.
#[derive(Debug, Clone, PartialEq)]
pub struct SetupFlight {
    /// From motor start to land-by.
    pub time: Time,
    /// Each pack as it comes back, to be charged full again.
    pub packs: Vec<ChargingPack>,
}

/// The longest flight of a setup.
///
/// # Errors
/// A fault of the setup, with its path from the file's root; `Contradiction` where it does not fly at all.
pub fn setup_flight(bundle: &Bundle, setup: &str) -> Result<SetupFlight, DocumentError> {
    let (mut ready, site) = resolve(bundle, setup)?;
    for pack in ready.supply.strings.iter_mut().flat_map(|string| &mut string.packs) {
        pack.rest_voltage = None;
    }
    let own = card(&ready, &site, &Thresholds::default()).map_err(|refusal| refused("setup", refusal))?;
    of_card(&ready, &own, ratings(bundle, setup)).ok_or_else(|| DocumentError::Contradiction {
        path: "setup".to_owned(),
        value: List::Setups.name(bundle, setup).unwrap_or_default(),
        allowed: "a setup that flies: see its card".to_owned(),
    })
}

/// Charge ratings of the packs on board, string by string.
fn ratings(bundle: &Bundle, setup: &str) -> Vec<f64> {
    let Some((_, setup)) = model::Setup::find(bundle, setup) else { return Vec::new() };
    let packs = setup.supply.strings.iter().flat_map(|string| &string.packs);
    packs.map(|pack| type_of(bundle, pack).map_or(1.0, charge_rating)).collect()
}

/// The maker's charge rating, 1 C where none is told.
pub(crate) fn charge_rating(of: &PackType) -> f64 {
    of.charge_c_rating.unwrap_or(1.0)
}

/// The type of a pack on board.
pub(crate) fn type_of<'a>(bundle: &'a Bundle, pack: &PackRef) -> Option<&'a PackType> {
    let id = match pack {
        PackRef::Type(id) => id,
        PackRef::Pack(id) => &model::Pack::find(bundle, id)?.1.pack_type,
    };
    PackType::find(bundle, id).map(|(_, of)| of)
}

/// What the longest flight of a card takes; none where there is none.
fn of_card(setup: &Setup, card: &Card, ratings: Vec<f64>) -> Option<SetupFlight> {
    let Outcome::Flies(flight) = &card.outcome else { return None };
    let last = flight.samples.last()?;
    let mut packs = Vec::new();
    let mut ratings = ratings.into_iter();
    for (string, sample) in setup.supply.strings.iter().zip(&last.strings) {
        for pack in &string.packs {
            let capacity = pack.present_capacity().ok()?;
            let left = 1.0 - (sample.used / capacity).value;
            packs.push(ChargingPack {
                pack: *pack,
                charge_c_rating: Ratio::new::<ratio>(ratings.next().unwrap_or(1.0)),
                from: Ratio::new::<ratio>(left.max(0.0)),
                to: Ratio::new::<ratio>(1.0),
            });
        }
    }
    Some(SetupFlight { time: flight.land_by_at, packs })
}

/// The packs that a setup's sets are made of: types by string, in an order of their own.
fn kind_of(bundle: &Bundle, setup: &str) -> Option<Vec<Vec<String>>> {
    let (_, setup) = model::Setup::find(bundle, setup)?;
    let id = |pack: &PackRef| type_of(bundle, pack).map_or_else(String::new, |of| of.id.clone());
    let string = |string: &model::PackString| {
        let mut ids: Vec<String> = string.packs.iter().map(id).collect();
        ids.sort();
        ids
    };
    let mut strings: Vec<Vec<String>> = setup.supply.strings.iter().map(string).collect();
    strings.sort();
    Some(strings)
}

/// `6 × Six cells, 7 Ah`.
fn kind_name(bundle: &Bundle, kind: &[Vec<String>]) -> String {
    let mut ids: Vec<&String> = kind.iter().flatten().collect();
    ids.sort();
    let counted = ids.chunk_by(|a, b| a == b).filter_map(|same| {
        let name = List::PackTypes.name(bundle, same.first()?)?;
        Some(format!("{} × {name}", same.len()))
    });
    counted.collect::<Vec<_>>().join(", ")
}

/// The kinds of sets that a day's flights ask for, each with its name, how many there are, and a setup that flies it.
pub fn kinds(bundle: &Bundle, day: &DayPlan) -> Vec<DayKind> {
    let mut kinds: Vec<DayKind> = Vec::new();
    for flight in &day.flights {
        let Some(packs) = kind_of(bundle, &flight.setup) else { continue };
        if kinds.iter().all(|known| known.packs != packs) {
            let count = day.sets.iter().find(|sets| kind_of(bundle, &sets.setup).as_ref() == Some(&packs));
            let name = kind_name(bundle, &packs);
            let count = count.map_or(0, |sets| sets.count);
            kinds.push(DayKind { packs, name, count, setup: flight.setup.clone() });
        }
    }
    kinds
}

/// A kind of pack set on a day.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DayKind {
    packs: Vec<Vec<String>>,
    /// For people.
    pub name: String,
    /// How many there are.
    pub count: u32,
    /// A setup that flies it.
    pub setup: String,
}

/// Puts how many sets of a kind there are.
pub fn set_count(bundle: &mut Bundle, day_id: &str, kind: &DayKind, count: u32) {
    let same: Vec<bool> = match DayPlan::find(bundle, day_id) {
        Some((_, day)) => {
            day.sets.iter().map(|sets| kind_of(bundle, &sets.setup).as_ref() == Some(&kind.packs)).collect()
        }
        None => return,
    };
    let Some(day) = DayPlan::find_mut(bundle, day_id) else { return };
    if let Some(sets) = same.iter().position(|same| *same).and_then(|place| day.sets.get_mut(place)) {
        sets.count = count;
    } else {
        day.sets.push(model::DaySets { setup: kind.setup.clone(), count, ..model::DaySets::default() });
    }
}

/// Numbers and words of a day without what its setups say; paths below the day.
pub(crate) fn frame(day: &DayPlan) -> Result<CoreDay, DocumentError> {
    let time = |field: &'static crate::fields::Field<DayPlan>| field.si(day).map(Time::new::<second>);
    keys::supply_kind("supply", &day.supply)?;
    n::CHARGERS.si(day)?;
    n::CHARGER_POWER.si(day)?;
    n::CHARGER_CURRENT.si(day)?;
    n::CHARGER_EFFICIENCY.si(day)?;
    n::FUEL_PER_KWH.si_if_there(day)?;
    for (index, sets) in day.sets.iter().enumerate() {
        n::DAY_SETS.si(sets).map_err(|fault| fault.under(&format!("sets[{index}]")))?;
    }
    for (index, flight) in day.flights.iter().enumerate() {
        wanted(flight).map_err(|fault| fault.under(&format!("flights[{index}]")))?;
    }
    let of_day = |path: &str, text: &str| clock::at(path, text).map(|at| Time::new::<second>(f64::from(at)));
    Ok(CoreDay {
        start: of_day("start", &day.start)?,
        wrap: of_day("wrap", &day.wrap)?,
        turn_round: time(&n::TURN_ROUND)?,
        cool_down: time(&n::COOL_DOWN)?,
        warm_up: time(&n::DAY_WARM_UP)?,
        sets: Vec::new(),
        chargers: day.chargers,
        supply_limit: n::SUPPLY_LIMIT.si_if_there(day)?.map(Power::new::<watt>),
        flights: Vec::new(),
    })
}

/// Earliest time and flight time of a line; paths below it.
fn wanted(flight: &WantedFlight) -> Result<(Time, Option<Time>), DocumentError> {
    n::FLIGHTS_ALIKE.si(flight)?;
    let earliest =
        if flight.earliest.trim().is_empty() { 0 } else { clock::at("earliest", &flight.earliest)? };
    let own = n::WANTED_TIME.si_if_there(flight)?.map(Time::new::<second>);
    Ok((Time::new::<second>(f64::from(earliest)), own))
}

/// A day ready to be scheduled; `flown` says what a setup's longest flight takes.
///
/// # Errors
/// Any fault of the day or its setups, with its path from the file's root.
pub fn planned(
    bundle: &Bundle,
    day_id: &str,
    flown: &mut dyn FnMut(&str) -> Result<SetupFlight, DocumentError>,
) -> Result<PlannedDay, DocumentError> {
    let (place, day) = referred::<DayPlan>(bundle, "day_plan", day_id)?;
    let under = |fault: DocumentError| fault.under(&format!("day_plans[{place}]"));
    let mut plan = frame(day).map_err(under)?;
    let kinds = kinds(bundle, day);
    plan.sets =
        kinds.iter().map(|kind| SetKind { count: kind.count, available_from: Time::default() }).collect();
    // A day without flights has no kinds; core wants one.
    if plan.sets.is_empty() {
        plan.sets.push(SetKind { count: 0, available_from: Time::default() });
    }
    let mut flight_names = Vec::new();
    for (index, line) in day.flights.iter().enumerate() {
        let at = |fault: DocumentError| fault.under(&format!("flights[{index}]"));
        referred::<model::Setup>(bundle, "setup", &line.setup).map_err(at).map_err(under)?;
        let packs = kind_of(bundle, &line.setup);
        let set = kinds.iter().position(|kind| Some(&kind.packs) == packs.as_ref()).unwrap_or(0);
        let flight = day_flight(day, line, set, &flown(&line.setup)?).map_err(at).map_err(under)?;
        for _ in 0..line.count {
            plan.flights.push(flight.clone());
            flight_names.push(List::Setups.name(bundle, &line.setup).unwrap_or_default());
        }
    }
    let is_generator = day.supply == model::SupplyKind::Generator.key();
    Ok(PlannedDay {
        plan,
        set_names: kinds.into_iter().map(|kind| kind.name).collect(),
        flight_names,
        fuel_l_per_kwh: day.fuel_l_per_kwh.filter(|_| is_generator),
    })
}

/// One flight of a line; paths below it.
fn day_flight(
    day: &DayPlan,
    line: &WantedFlight,
    set: usize,
    flown: &SetupFlight,
) -> Result<DayFlight, DocumentError> {
    let (earliest, own) = wanted(line)?;
    let duration = own.unwrap_or(flown.time);
    // Longer than the card allows is not flown, whatever is wanted.
    let share = (duration / flown.time).value;
    if share > 1.0 + 1e-9 {
        return Err(DocumentError::Contradiction {
            path: "flight_time_min".to_owned(),
            value: crate::quantity::shown(line.flight_time_min.unwrap_or_default()),
            allowed: format!("up to {:.1} min, by the card", flown.time.get::<second>() / 60.0),
        });
    }
    let used = |pack: &ChargingPack| ChargingPack {
        from: Ratio::new::<ratio>(1.0) - (Ratio::new::<ratio>(1.0) - pack.from) * share,
        ..*pack
    };
    let packs: Vec<ChargingPack> = flown.packs.iter().map(used).collect();
    let efficiency = n::CHARGER_EFFICIENCY.si(day)?;
    let charger = charger_on(day.charger_power_w, day.charger_current_a, efficiency, day.supply_limit_w);
    let course = charge(&packs, &charger, &ChargeSettings::default()).map_err(of_core)?;
    Ok(DayFlight { set, earliest, duration, charge: course.steps, charge_energy: course.energy })
}
