//! `day FILE.json`: a day's schedule.
//!
//! `start`, `wrap`: times of the day, `08:05` or `08:05:30`; `turn_round_s`? (600), `cool_down_s`? (1200), `warm_up_s`? (0); `sets`: a list of
//! {`name`, `count`, `available_from`?, `packs`?: [a pack (see `pack_asked`)]}; `chargers`: {`count`, `power_w`,
//! `current_a` (of a channel; each pack of a set has one), `efficiency`? (0.87)}; `supply`?: {`kind`? (`mains`, `generator`, `vehicle`),
//! `limit_w`?, `fuel_l_per_kwh`?}; `flights`: a list in the order in which they are flown of {`set`: a name, `setup`?: a name for
//! people, `earliest`?, `duration_s`, `count`? (1), and either `used_percent` of the set's charge, from which the charge is worked
//! out, or `charge`: [[seconds, watts], …], never rising}. → see `DayReport`; times also in seconds since midnight.

use liftmargin_core::charge::{ChargeSettings, ChargingPack, charge};
use liftmargin_core::day::{ChargeStep, DayFlight, DayPlan, SetKind};
use liftmargin_core::units::{Energy, Power, Time};
use serde::Deserialize;
use serde_json::Value;
use uom::si::energy::joule;
use uom::si::power::watt;
use uom::si::time::second;

use super::day_report::PlannedDay;
use super::of_core;
use super::pack_asked::{PackAsked, charger_on, one, one_by_one};
use super::{asked, clock, plain};
use crate::error::DocumentError;
use crate::keys;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct SetAsked {
    name: String,
    count: u32,
    available_from: Option<String>,
    #[serde(default)]
    packs: Vec<PackAsked>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct ChargersAsked {
    count: u32,
    power_w: f64,
    current_a: f64,
    #[serde(default = "usual_efficiency")]
    efficiency: f64,
}

#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
struct SupplyAsked {
    kind: Option<String>,
    limit_w: Option<f64>,
    fuel_l_per_kwh: Option<f64>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct FlightAsked {
    set: String,
    #[serde(default)]
    setup: String,
    earliest: Option<String>,
    duration_s: f64,
    #[serde(default = "one")]
    count: usize,
    used_percent: Option<f64>,
    charge: Option<Vec<(f64, f64)>>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct DayAsked {
    start: String,
    wrap: String,
    #[serde(default = "usual_turn_round")]
    turn_round_s: f64,
    #[serde(default = "usual_cool_down")]
    cool_down_s: f64,
    #[serde(default)]
    warm_up_s: f64,
    sets: Vec<SetAsked>,
    chargers: ChargersAsked,
    #[serde(default)]
    supply: SupplyAsked,
    flights: Vec<FlightAsked>,
}

fn usual_efficiency() -> f64 {
    0.87
}

fn usual_turn_round() -> f64 {
    600.0
}

fn usual_cool_down() -> f64 {
    1200.0
}

/// Most flights that one line may stand for.
const MOST: usize = 500;

/// The schedule of a text's day.
///
/// # Errors
/// Where the text is no such question, or one that core refuses.
pub fn day(text: &str) -> Result<Value, DocumentError> {
    let asked: DayAsked = asked(text)?;
    let planned = planned(&asked)?;
    let schedule = planned.scheduled().map_err(of_core)?;
    Ok(plain(planned.report(&schedule)))
}

fn planned(asked: &DayAsked) -> Result<PlannedDay, DocumentError> {
    let time = |seconds: f64| Time::new::<second>(seconds);
    let of_day = |path: &str, text: &str| clock::at(path, text).map(|at| time(f64::from(at)));
    if let Some(kind) = &asked.supply.kind {
        keys::supply_kind("supply.kind", kind)?;
    }
    let mut sets = Vec::new();
    for (index, set) in asked.sets.iter().enumerate() {
        let path = format!("sets[{index}].available_from");
        let from = set.available_from.as_ref().map(|from| of_day(&path, from)).transpose()?;
        sets.push(SetKind { count: set.count, available_from: from.unwrap_or_default() });
    }
    let (mut flights, mut flight_names) = (Vec::new(), Vec::new());
    for (index, wanted) in asked.flights.iter().enumerate() {
        let flight = flight(asked, wanted).map_err(|fault| fault.under(&format!("flights[{index}]")))?;
        for _ in 0..wanted.count.min(MOST) {
            flights.push(flight.clone());
            flight_names.push(wanted.setup.clone());
        }
    }
    Ok(PlannedDay {
        plan: DayPlan {
            start: of_day("start", &asked.start)?,
            wrap: of_day("wrap", &asked.wrap)?,
            turn_round: time(asked.turn_round_s),
            cool_down: time(asked.cool_down_s),
            warm_up: time(asked.warm_up_s),
            sets,
            chargers: asked.chargers.count,
            supply_limit: asked.supply.limit_w.map(Power::new::<watt>),
            flights,
        },
        set_names: asked.sets.iter().map(|set| set.name.clone()).collect(),
        flight_names,
        fuel_l_per_kwh: asked.supply.fuel_l_per_kwh,
    })
}

/// A flight; paths below it.
fn flight(asked: &DayAsked, wanted: &FlightAsked) -> Result<DayFlight, DocumentError> {
    let unknown = || DocumentError::UnknownReference { path: "set".to_owned(), id: wanted.set.clone() };
    let set = asked.sets.iter().position(|set| set.name == wanted.set).ok_or_else(unknown)?;
    let earliest = wanted.earliest.as_ref().map(|text| clock::at("earliest", text)).transpose()?;
    let (charge, energy_j) = match (&wanted.charge, wanted.used_percent) {
        (Some(steps), None) => told(steps),
        (None, Some(used_percent)) => worked_out(asked, set, used_percent / 100.0)?,
        _ => {
            return Err(DocumentError::Missing {
                path: "used_percent".to_owned(),
                allowed: "either used_percent or charge".to_owned(),
            });
        }
    };
    Ok(DayFlight {
        set,
        earliest: Time::new::<second>(earliest.map_or(0.0, f64::from)),
        duration: Time::new::<second>(wanted.duration_s),
        charge,
        charge_energy: Energy::new::<joule>(energy_j),
    })
}

fn told(steps: &[(f64, f64)]) -> (Vec<ChargeStep>, f64) {
    let step = |&(seconds, watts): &(f64, f64)| ChargeStep {
        duration: Time::new::<second>(seconds),
        power: Power::new::<watt>(watts),
    };
    (steps.iter().map(step).collect(), steps.iter().map(|(seconds, watts)| seconds * watts).sum())
}

fn worked_out(asked: &DayAsked, set: usize, used: f64) -> Result<(Vec<ChargeStep>, f64), DocumentError> {
    let mut packs: Vec<ChargingPack> = Vec::new();
    let of_set = asked.sets.get(set).map_or(&[][..], |set| &set.packs);
    for (index, pack) in one_by_one(of_set) {
        let charging = pack.charging(used);
        packs.push(charging.map_err(|fault| fault.under(&format!("sets[{set}].packs[{index}]")))?);
    }
    let chargers = &asked.chargers;
    let charger = charger_on(chargers.power_w, chargers.current_a, chargers.efficiency, asked.supply.limit_w);
    let course = charge(&packs, &charger, &ChargeSettings::default()).map_err(of_core)?;
    Ok((course.steps, course.energy.value))
}
