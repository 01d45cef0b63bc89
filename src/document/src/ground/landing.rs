//! What a landing leaves in the register of packs: a cycle where the packs were charged for it, and what is taken out of each.
//!
//! Formula   a string's share of what the meter counted is its share in the card's own flight at its end (the circuit's: unequal
//!           strings give unequally), equal shares where the card has none; a pack's own sum is C (1 − s) before the flight plus
//!           that share, C at 25 °C. Without a meter: C (1 − s) by the rest voltage after landing
//! Units     mAh in the file
//! Source    `flight`, `supply`. Valid, Assumes: as there; a flight as it was flown shares as the longest one does

use liftmargin_core::card::{Outcome, Setup as CoreSetup, card};
use liftmargin_core::cell::state_of_charge_at_rest;
use liftmargin_core::limits::Thresholds;
use liftmargin_core::supply::{MeterPlace, Pack as CorePack};
use liftmargin_core::units::{ElectricCharge, ElectricPotential};
use uom::si::electric_charge::milliampere_hour;
use uom::si::electric_potential::volt;

use super::register::{core_pack, is_flown_since_charged};
use crate::log::{Landing, flown_bundle};
use crate::model::{Bundle, Flight, Pack, PackRef, Setup};
use crate::record::Record;
use crate::resolve::{counted_at, resolve};

/// Counts a landing: each single pack on board has one more cycle where it was charged for the flight, says what is taken out of
/// it, and its cells' voltages are no longer known.
pub fn count_landing(bundle: &mut Bundle, flight: &Flight, landing: &Landing) {
    let Ok((flown, setup_id)) = flown_bundle(bundle, flight) else { return };
    let Some((_, setup)) = Setup::find(&flown, &setup_id) else { return };
    let on_board = resolve(&flown, &setup_id).ok();
    let shares = on_board.as_ref().and_then(|(ready, site)| {
        let own = card(ready, site, &Thresholds::default()).ok()?;
        Some((string_shares(ready, &own.outcome), ready))
    });
    let flies_on = flight.aloft.as_ref().is_some_and(|aloft| aloft.flies_on);
    for (string, refs) in setup.supply.strings.iter().enumerate() {
        for (place, reference) in refs.packs.iter().enumerate() {
            let PackRef::Pack(id) = reference else { continue };
            let taken_mah = shares.as_ref().and_then(|(shares, ready)| {
                let counted = landing.used_mah.map(|mah| of_string(ready, shares, string, mah));
                let at_start = ready.supply.strings.get(string)?.packs.get(place)?;
                taken_out(at_start, counted?)
            });
            let Some(pack) = Pack::find(bundle, id).map(|(_, pack)| pack.clone()) else { continue };
            let by_rest = landing.rest_cell_voltage_v.and_then(|rest_v| by_rest(bundle, &pack, rest_v));
            let charged_before = !flies_on && !is_flown_since_charged(&pack);
            if let Some(pack) = Pack::find_mut(bundle, id) {
                pack.cycles = pack.cycles.saturating_add(u32::from(charged_before));
                pack.used_mah = taken_mah.or(by_rest).map(f64::ceil);
                pack.cell_voltages_v.clear();
            }
        }
    }
}

/// Of all that is given, what each string gives.
fn string_shares(ready: &CoreSetup, outcome: &Outcome) -> Vec<f64> {
    let equal = || vec![1.0 / ready.supply.strings.len().max(1) as f64; ready.supply.strings.len()];
    let Outcome::Flies(flight) = outcome else { return equal() };
    let Some(last) = flight.samples.last() else { return equal() };
    let all: f64 = last.strings.iter().map(|string| string.used.value).sum();
    if all > 0.0 { last.strings.iter().map(|string| string.used.value / all).collect() } else { equal() }
}

/// What a string gave, of what the meter counted.
fn of_string(ready: &CoreSetup, shares: &[f64], string: usize, counted_mah: f64) -> f64 {
    let true_mah = counted_mah / (1.0 + ready.supply.meter.scale_error.value);
    let share = |string: usize| shares.get(string).copied().unwrap_or_default();
    match ready.supply.meter.place {
        MeterPlace::Bus => true_mah * share(string),
        MeterPlace::String(metered) if share(metered) > 0.0 => true_mah * share(string) / share(metered),
        MeterPlace::String(_) => true_mah,
    }
}

/// Out of a pack since it was full, mAh, up to all of it.
fn taken_out(at_start: &CorePack, given_mah: f64) -> Option<f64> {
    let capacity = capacity(at_start)?.get::<milliampere_hour>();
    let before_mah = capacity * (1.0 - at_start.state_of_charge().ok()?.value);
    let taken_mah = before_mah + given_mah;
    taken_mah.is_finite().then(|| taken_mah.clamp(0.0, capacity))
}

fn by_rest(bundle: &Bundle, pack: &Pack, rest_cell_v: f64) -> Option<f64> {
    let pack = core_pack(bundle, pack).ok()?;
    let rest = ElectricPotential::new::<volt>(rest_cell_v);
    let left = state_of_charge_at_rest(pack.cell.chemistry, rest).ok()?;
    Some(capacity(&pack)?.get::<milliampere_hour>() * (1.0 - left.value))
}

/// At 25 °C, as what is taken out is counted against it.
fn capacity(pack: &CorePack) -> Option<ElectricCharge> {
    let warm = CorePack { temperature: counted_at(), ..*pack };
    warm.present_capacity().ok()
}
