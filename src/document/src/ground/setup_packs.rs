//! The packs of a setup: matched out of the register, checked before they are joined, counted when they have landed.

use liftmargin_core::card::card;
use liftmargin_core::limits::{State, Thresholds};
use liftmargin_core::packs::{
    JoinLimits, JoinReason, JoinedString, Joining, JoiningString, MatchTask, PackMatch, join, match_packs,
    series_join,
};
use liftmargin_core::supply::PackString;
use liftmargin_core::units::{ElectricCharge, Ratio};
use uom::si::electric_charge::milliampere_hour;
use uom::si::electric_current::ampere;
use uom::si::electric_potential::{millivolt, volt};
use uom::si::power::watt;
use uom::si::ratio::ratio;

use super::bundle_day::{charge_rating, type_of};
use super::of_core;
use super::register::{is_flown_since_charged, rested, row};
use crate::error::DocumentError;
use crate::model::{Bundle, Pack, PackRef, Setup};
use crate::record::{List, Record};
use crate::resolve::{referred, resolve};

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

/// Rounded down: what is promised is there.
fn gained(found: &PackMatch) -> String {
    let mah = (found.best.usable - found.in_order.usable).get::<milliampere_hour>();
    let seconds = (found.best.time - found.in_order.time).value;
    let (mah, seconds) = ((mah / 50.0).floor() * 50.0, seconds.floor());
    let how = if found.is_exact {
        "the best of all arrangements".to_owned()
    } else {
        // Up: what may be missed is not made small.
        let missed = (found.bound - found.best.usable).get::<milliampere_hour>();
        format!("the best found, no arrangement gives {:.0} mAh more", ((missed / 50.0).floor() + 1.0) * 50.0)
    };
    if mah > 0.0 {
        format!("+{mah:.0} mAh, +{seconds:.0} s against taking them in order: {how}")
    } else {
        format!("no better than taking them in order: {how}")
    }
}

/// Ids of the single packs of a setup that landings took something out of, and that in words; none where all are full.
pub fn flown_packs(bundle: &Bundle, setup_id: &str) -> Option<(Vec<String>, String)> {
    let (_, setup) = Setup::find(bundle, setup_id)?;
    let packs = setup.supply.strings.iter().flat_map(|string| &string.packs);
    let flown: Vec<&Pack> = packs
        .filter_map(|pack| match pack {
            PackRef::Pack(id) => Pack::find(bundle, id).map(|(_, pack)| pack),
            PackRef::Type(_) => None,
        })
        .filter(|pack| is_flown_since_charged(pack))
        .collect();
    let most = flown.iter().filter_map(|pack| pack.used_mah).reduce(f64::max)?;
    let names: Vec<&str> = flown.iter().map(|pack| pack.name.as_str()).collect();
    let words = format!(
        "{}: up to {:.0} mAh taken out by landings. The card counts with what is left.",
        names.join(", "),
        (most / 50.0).ceil() * 50.0
    );
    Some((flown.iter().map(|pack| pack.id.clone()).collect(), words))
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
    /// Unequal packs in series: which rules, and what the others keep.
    pub series: Vec<String>,
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
    let joining = |(index, string): (usize, &PackString)| JoiningString {
        string: string.clone(),
        charge_c_rating: Ratio::new::<ratio>(if rating(index).is_finite() { rating(index) } else { 1.0 }),
        leads: ready.supply.string_resistance,
    };
    let strings: Vec<JoiningString> = ready.supply.strings.iter().enumerate().map(joining).collect();
    let joined = join(&strings, &JoinLimits::default()).map_err(of_core)?;
    let label = |string: usize, place: usize| {
        let packs = setup.supply.strings.get(string).map_or(&[][..], |string| &string.packs);
        match packs.get(place) {
            Some(PackRef::Pack(id)) => List::Packs.name(bundle, id).unwrap_or_default(),
            _ => format!("pack {}", place + 1),
        }
    };
    let strings = ready.supply.strings.iter().enumerate();
    let series =
        strings.filter_map(|(index, string)| series_words(index, string, ready.policy.share, &label));
    let series = series.collect();
    Ok(JoinWords { verdict: joined.verdict, words: join_words(&joined), rows: join_rows(&joined), series })
}

/// `String 1: A2 rules, 5,100 mAh to the reserve; 400 mAh stay unused in A1.` None where the packs are alike.
fn series_words(
    index: usize,
    string: &PackString,
    reserve: Ratio,
    label: &dyn Fn(usize, usize) -> String,
) -> Option<String> {
    let joined = series_join(string, reserve).ok()?;
    let mah = |charge: ElectricCharge| (charge.get::<milliampere_hour>() / 50.0).floor() * 50.0;
    let kept = joined.left_over.iter().enumerate().filter(|(_, left)| mah(**left) > 0.0);
    let kept: Vec<String> = kept
        .map(|(place, left)| format!("{:.0} mAh stay unused in {}", mah(*left), label(index, place)))
        .collect();
    let rules = label(index, joined.ruled_by);
    let usable = mah(joined.usable);
    let words =
        format!("String {}: {rules} rules, {usable:.0} mAh to the reserve; {}.", index + 1, kept.join(", "));
    (!kept.is_empty()).then_some(words)
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
            let most = JoinLimits::default().cell_difference.get::<millivolt>();
            format!(
                "cells are {:.0} mV apart (at most {most:.0} mV: common practice, no source)",
                difference.get::<millivolt>()
            )
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
    let row = |(index, string): (usize, &JoinedString)| {
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
