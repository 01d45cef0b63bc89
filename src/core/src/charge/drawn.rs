//! A set on a charger: all packs together, and what the supply gives, as a few steps that never rise.
//!
//! Formula: the power of all packs summed over time; at each moment the greatest of all that follows; cut where it falls to 75,
//! 50 and 25 % of the most, each step as high as its beginning. Units: s, W. Source: own. Valid: see the station.
//! Assumes: a supply must be able to give the most of what is still to come.

use uom::si::electric_charge::coulomb;
use uom::si::energy::joule;
use uom::si::power::watt;
use uom::si::time::second;

use super::params::{ChargeCourse, ChargeRule, ChargeSettings, Charger, ChargingPack};
use super::taper::{Moment, PackCourse, course};
use crate::day::ChargeStep;
use crate::input_error::InputError;
use crate::units::{ElectricCharge, Energy, Power, Time};

/// Where a step ends: shares of the greatest power.
const CUTS: [f64; 3] = [0.75, 0.5, 0.25];

/// The charge of a set, every pack on a channel of one charger.
///
/// # Errors
/// `InputError::OutOfRange` naming the field.
pub fn charge(
    packs: &[ChargingPack],
    charger: &Charger,
    settings: &ChargeSettings,
) -> Result<ChargeCourse, InputError> {
    ChargingPack::PACKS.check(packs.len() as f64)?;
    Charger::OUTPUT_POWER.check(charger.output_power.value)?;
    Charger::OUTPUT_CURRENT.check(charger.output_current.value)?;
    let efficiency = Charger::EFFICIENCY.check(charger.efficiency.value)?;
    ChargeSettings::SETTLING.check(settings.settling.value)?;
    ChargeSettings::CUT_OFF.check(settings.cut_off.value)?;
    settings.behaviour.check()?;
    // Alike packs stand once.
    let mut kinds: Vec<(&ChargingPack, f64, PackCourse)> = Vec::new();
    for pack in packs {
        match kinds.iter_mut().find(|(known, ..)| *known == pack) {
            Some((_, count, _)) => *count += 1.0,
            None => kinds.push((pack, 1.0, course(pack, charger, packs.len(), settings)?)),
        }
    }
    let slowest = kinds.iter().map(|(.., own)| own).max_by(|a, b| a.duration_s.total_cmp(&b.duration_s));
    let (duration_s, ruled_by) =
        slowest.map_or((0.0, ChargeRule::Nothing), |own| (own.duration_s, own.ruled_by));
    let sum = |of: fn(&PackCourse) -> f64| kinds.iter().map(|(_, count, own)| count * of(own)).sum::<f64>();
    let constant_s = kinds.iter().filter(|(.., own)| own.duration_s > 0.0).map(|(.., own)| own.constant_s);
    let constant_s = constant_s.fold(f64::INFINITY, f64::min);
    Ok(ChargeCourse {
        duration: Time::new::<second>(duration_s),
        constant_current_for: Time::new::<second>(if constant_s.is_finite() { constant_s } else { 0.0 }),
        charge: ElectricCharge::new::<coulomb>(sum(|own| own.charge_c)),
        energy: Energy::new::<joule>(sum(|own| own.energy_j) / efficiency),
        ruled_by,
        steps: steps(&kinds, duration_s, efficiency),
    })
}

/// What a course takes at a time.
fn power_w(moments: &[Moment], duration_s: f64, at_s: f64) -> f64 {
    if at_s >= duration_s {
        return 0.0;
    }
    let next = moments.partition_point(|moment| moment.time_s <= at_s);
    moments.get(next.saturating_sub(1)).map_or(0.0, |moment| moment.power_w)
}

fn steps(kinds: &[(&ChargingPack, f64, PackCourse)], duration_s: f64, efficiency: f64) -> Vec<ChargeStep> {
    let mut times: Vec<f64> =
        kinds.iter().flat_map(|(.., own)| own.moments.iter().map(|moment| moment.time_s)).collect();
    times.sort_by(f64::total_cmp);
    times.dedup();
    let all_w = |at_s: f64| -> f64 {
        let of = |(_, count, own): &(&ChargingPack, f64, PackCourse)| {
            count * power_w(&own.moments, own.duration_s, at_s)
        };
        kinds.iter().map(of).sum::<f64>() / efficiency
    };
    // The greatest of all that follows, from the end.
    let mut to_come: Vec<(f64, f64)> = Vec::new();
    let mut most_w = 0.0_f64;
    for &at_s in times.iter().rev() {
        most_w = most_w.max(all_w(at_s));
        to_come.push((at_s, most_w));
    }
    let mut steps: Vec<ChargeStep> = Vec::new();
    let (mut from_s, mut height_w) = (0.0, most_w);
    let ends = CUTS.iter().map(|cut| {
        let low = to_come.iter().rev().find(|(_, power_w)| *power_w <= cut * most_w);
        low.copied().unwrap_or((duration_s, 0.0))
    });
    for (end_s, below_w) in ends.chain([(duration_s, 0.0)]) {
        // Whole seconds, so that no step is cut short.
        let end_s = f64::ceil(end_s).max(from_s);
        if end_s >= from_s + 1.0 {
            steps.push(ChargeStep {
                duration: Time::new::<second>(end_s - from_s),
                power: Power::new::<watt>(height_w),
            });
            from_s = end_s;
        }
        height_w = below_w.min(height_w);
    }
    steps
}
