//! `match FILE.json`: which packs go together.
//!
//! `packs`: a list of packs (see `pack_asked`), in the order in which one would take them; `strings`, `packs_in_series`; `power_w` (the
//! hover, with all that runs beside it); `reserve_percent`? (20), `loaded_cell_floor_v`? (3.3), `string_resistance_mohm`? (3),
//! `bus_resistance_mohm`? (1). → `strings`: names, or numbers from 1 where a pack has none, string by string; `usable_mah` on the bus to
//! the reserve and `time_s`; `in_order` with the same three; `gained_mah`, `gained_s`; `exact`: every arrangement was looked at;
//! `bound_mah`: no arrangement gives more.

use liftmargin_core::flight::ReservePolicy;
use liftmargin_core::packs::{Arranged, MatchTask};
use liftmargin_core::units::{ElectricPotential, ElectricalResistance, Power, Ratio};
use serde::{Deserialize, Serialize};
use serde_json::Value;
use uom::si::electric_charge::milliampere_hour;
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::milliohm;
use uom::si::power::watt;
use uom::si::ratio::ratio;
use uom::si::time::second;

use super::of_core;
use super::pack_asked::{PackAsked, one_by_one};
use super::{asked, plain};
use crate::error::DocumentError;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct MatchAsked {
    packs: Vec<PackAsked>,
    strings: usize,
    packs_in_series: usize,
    power_w: f64,
    #[serde(default = "usual_reserve")]
    reserve_percent: f64,
    #[serde(default = "usual_floor")]
    loaded_cell_floor_v: f64,
    #[serde(default = "usual_string")]
    string_resistance_mohm: f64,
    #[serde(default = "usual_bus")]
    bus_resistance_mohm: f64,
}

fn usual_reserve() -> f64 {
    20.0
}

fn usual_floor() -> f64 {
    3.3
}

pub(super) fn usual_string() -> f64 {
    3.0
}

fn usual_bus() -> f64 {
    1.0
}

#[derive(Debug, Serialize)]
struct ArrangedAnswer {
    strings: Vec<Vec<String>>,
    usable_mah: f64,
    time_s: f64,
}

#[derive(Debug, Serialize)]
struct MatchAnswer {
    #[serde(flatten)]
    best: ArrangedAnswer,
    in_order: ArrangedAnswer,
    gained_mah: f64,
    gained_s: f64,
    exact: bool,
    bound_mah: f64,
}

/// Puts the packs of a text together.
///
/// # Errors
/// Where the text is no such question, or one that core refuses.
pub fn match_packs(text: &str) -> Result<Value, DocumentError> {
    let asked: MatchAsked = asked(text)?;
    let mut packs = Vec::new();
    let one_by_one: Vec<(usize, &PackAsked)> = one_by_one(&asked.packs).collect();
    for (index, pack) in &one_by_one {
        packs.push(pack.pack().map_err(|fault| fault.under(&format!("packs[{index}]")))?);
    }
    let task = MatchTask {
        packs,
        strings: asked.strings,
        series: asked.packs_in_series,
        string_resistance: ElectricalResistance::new::<milliohm>(asked.string_resistance_mohm),
        bus_resistance: ElectricalResistance::new::<milliohm>(asked.bus_resistance_mohm),
        power: Power::new::<watt>(asked.power_w),
        policy: ReservePolicy {
            share: Ratio::new::<ratio>(asked.reserve_percent / 100.0),
            time: None,
            charge: None,
            loaded_cell_floor: ElectricPotential::new::<volt>(asked.loaded_cell_floor_v),
        },
    };
    let found = liftmargin_core::packs::match_packs(&task).map_err(of_core)?;
    let named = |place: &usize| match one_by_one.get(*place) {
        Some((_, pack)) if !pack.name.is_empty() => pack.name.clone(),
        _ => (place + 1).to_string(),
    };
    let answer = |arranged: &Arranged| ArrangedAnswer {
        strings: arranged.strings.iter().map(|string| string.iter().map(named).collect()).collect(),
        usable_mah: arranged.usable.get::<milliampere_hour>(),
        time_s: arranged.time.get::<second>(),
    };
    let (best, in_order) = (answer(&found.best), answer(&found.in_order));
    Ok(plain(MatchAnswer {
        gained_mah: best.usable_mah - in_order.usable_mah,
        gained_s: best.time_s - in_order.time_s,
        best,
        in_order,
        exact: found.is_exact,
        bound_mah: found.bound.get::<milliampere_hour>(),
    }))
}
