//! `join FILE.json`: whether strings at rest may be connected in parallel.
//!
//! `strings`: a list of {`packs`: packs in series (see `pack_asked`), `leads_mohm`? (3)}; `limits`? {`cell_difference_v`? (0.05),
//! `watch_from_percent`? (50), `coldest_charge_c`? (0)}. → `verdict` (`join`, `watch`, `do-not-join`), `equalising_current_a`
//! (the greatest of a string, at the first moment), `heat_w`, `node_voltage_v`; `strings`: `rest_voltage_v`, `resistance_ohm`, `current_a` (negative:
//! it is charged), `heat_w`, `charge_to_cell_v` and `charge_mah` of each pack to match the highest; `reasons`: `state` (`watch`, `no`), `reason`
//! (`unequal-cells`, `unlike-chemistry`, `cell-difference`, `charge-current`, `discharge-current`, `too-cold`), `string` from 1, `limit`.

use liftmargin_core::limits::State;
use liftmargin_core::packs::{JoinLimits, JoinReason, Joining, JoiningString};
use liftmargin_core::supply::PackString;
use liftmargin_core::units::{
    ElectricCharge, ElectricPotential, ElectricalResistance, Ratio, ThermodynamicTemperature,
};
use serde::{Deserialize, Serialize};
use serde_json::Value;
use uom::si::electric_charge::milliampere_hour;
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::{milliohm, ohm};
use uom::si::power::watt;
use uom::si::ratio::ratio;
use uom::si::thermodynamic_temperature::degree_celsius;

use super::matching::usual_string;
use super::of_core;
use super::pack_asked::{PackAsked, one_by_one};
use super::{asked, plain};
use crate::error::DocumentError;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct StringAsked {
    packs: Vec<PackAsked>,
    #[serde(default = "usual_string")]
    leads_mohm: f64,
}

#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
struct LimitsAsked {
    cell_difference_v: Option<f64>,
    watch_from_percent: Option<f64>,
    coldest_charge_c: Option<f64>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct JoinAsked {
    strings: Vec<StringAsked>,
    #[serde(default)]
    limits: LimitsAsked,
}

#[derive(Debug, Serialize)]
struct StringAnswer {
    rest_voltage_v: f64,
    resistance_ohm: f64,
    current_a: f64,
    heat_w: f64,
    charge_to_cell_v: f64,
    charge_mah: Vec<f64>,
}

#[derive(Debug, Serialize)]
struct ReasonAnswer {
    state: &'static str,
    reason: &'static str,
    /// From 1.
    #[serde(skip_serializing_if = "Option::is_none")]
    string: Option<usize>,
    /// V or A, as the reason is about.
    #[serde(skip_serializing_if = "Option::is_none")]
    limit: Option<f64>,
}

#[derive(Debug, Serialize)]
struct JoinAnswer {
    verdict: &'static str,
    equalising_current_a: f64,
    heat_w: f64,
    node_voltage_v: f64,
    strings: Vec<StringAnswer>,
    reasons: Vec<ReasonAnswer>,
}

/// The verdict as a word of the format.
pub(super) fn verdict(state: State) -> &'static str {
    match state {
        State::Fine => "join",
        State::Watch => "watch",
        State::No => "do-not-join",
    }
}

/// Says of a text's strings whether they may be joined.
///
/// # Errors
/// Where the text is no such question, or one that core refuses.
pub fn join(text: &str) -> Result<Value, DocumentError> {
    let asked: JoinAsked = asked(text)?;
    let mut strings = Vec::new();
    for (index, string) in asked.strings.iter().enumerate() {
        strings.push(joining(string).map_err(|fault| fault.under(&format!("strings[{index}]")))?);
    }
    let limits = limits(&asked.limits);
    let joined = liftmargin_core::packs::join(&strings, &limits).map_err(of_core)?;
    Ok(plain(answer(&joined, &limits)))
}

fn joining(string: &StringAsked) -> Result<JoiningString, DocumentError> {
    let mut packs = Vec::new();
    let mut rating = f64::INFINITY;
    for (place, pack) in one_by_one(&string.packs) {
        packs.push(pack.pack().map_err(|fault| fault.under(&format!("packs[{place}]")))?);
        rating = rating.min(pack.charge_c_rating);
    }
    let rating = if rating.is_finite() { rating } else { super::pack_asked::usual_charge() };
    Ok(JoiningString {
        string: PackString { packs },
        charge_c_rating: Ratio::new::<ratio>(rating),
        leads: ElectricalResistance::new::<milliohm>(string.leads_mohm),
    })
}

fn limits(asked: &LimitsAsked) -> JoinLimits {
    let usual = JoinLimits::default();
    JoinLimits {
        cell_difference: asked
            .cell_difference_v
            .map_or(usual.cell_difference, ElectricPotential::new::<volt>),
        watch_from: asked
            .watch_from_percent
            .map_or(usual.watch_from, |percent| Ratio::new::<ratio>(percent / 100.0)),
        coldest_charge: asked
            .coldest_charge_c
            .map_or(usual.coldest_charge, ThermodynamicTemperature::new::<degree_celsius>),
    }
}

fn answer(joined: &Joining, limits: &JoinLimits) -> JoinAnswer {
    let strings = joined.strings.iter().map(|string| StringAnswer {
        rest_voltage_v: string.rest_voltage.get::<volt>(),
        resistance_ohm: string.resistance.get::<ohm>(),
        current_a: string.current.get::<ampere>(),
        heat_w: string.heat.get::<watt>(),
        charge_to_cell_v: string.charge_to_cell.get::<volt>(),
        charge_mah: string.charge.iter().map(ElectricCharge::get::<milliampere_hour>).collect(),
    });
    let reasons = joined.reasons.iter().map(|(state, reason)| {
        let (string, limit) = match reason {
            JoinReason::CellDifference { .. } => (None, Some(limits.cell_difference.get::<volt>())),
            JoinReason::ChargeCurrent { string, limit } | JoinReason::DischargeCurrent { string, limit } => {
                (Some(*string), Some(limit.get::<ampere>()))
            }
            JoinReason::UnequalCells { string }
            | JoinReason::UnlikeChemistry { string }
            | JoinReason::TooCold { string } => (Some(*string), None),
        };
        let string = string.map(|string| string + 1);
        ReasonAnswer { state: state.key(), reason: reason.key(), string, limit }
    });
    JoinAnswer {
        verdict: verdict(joined.verdict),
        equalising_current_a: joined.equalising_current.get::<ampere>(),
        heat_w: joined.heat.get::<watt>(),
        node_voltage_v: joined.node_voltage.get::<volt>(),
        strings: strings.collect(),
        reasons: reasons.collect(),
    }
}
