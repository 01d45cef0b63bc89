//! The whole answer for a day: its events, its first stall, the fewest sets and chargers, what the supply gives.
//!
//! Formula: fewest sets are those in use when a set is at hand whenever one is asked for, since no wait leaves every moment where
//! it is; fewest chargers by bisection. Units, Source, Valid, Assumes: see the station.

use uom::si::energy::joule;
use uom::si::power::watt;
use uom::si::time::second;

use super::counts::fewest;
use super::params::{DayEvent, DayEventKind, DayPlan, DaySchedule, SupplyStep};
use super::queue::{Counts, DayRun, NEVER, PlainDay, Turn};
use super::stall;
use crate::input_error::InputError;
use crate::units::{Energy, Power, Time};

pub(super) fn time(seconds: i64) -> Time {
    Time::new::<second>(seconds as f64)
}

/// A day as it goes.
///
/// # Errors
/// `InputError::OutOfRange` naming the field; `InputError::Day` for a flight with a set that is not there, or a charge that
/// the supply cannot feed or whose power rises.
pub fn schedule(plan: &DayPlan) -> Result<DaySchedule, InputError> {
    let (day, counts) = PlainDay::of(plan)?;
    let run = day.run(&counts);
    let endless = day.run(&Counts { sets: None, ..counts.clone() });
    let sets: u32 = counts.sets.iter().flatten().sum();
    let fewest_chargers = fewest(0, sets.min(DayPlan::CHARGERS.max as u32), |chargers| {
        stall::runs_smoothly(&day, &Counts { chargers, ..counts.clone() })
    });
    let stalled_s: i64 = run.turns.iter().map(|turn| turn.start_s - turn.wanted_s).sum();
    let energies = plan.flights.iter().take(run.turns.len()).zip(&run.turns);
    // Not `sum`: that of nothing is minus zero, which people read.
    let energy_j = energies
        .filter(|(_, turn)| turn.charge_s < NEVER)
        .map(|(flight, _)| flight.charge_energy.value)
        .fold(0.0, |all: f64, one| all + one);
    let supply = supply(&day, &run);
    let greatest_w = supply.iter().map(|step| step.power.value).fold(0.0, f64::max);
    let charged_s = run.turns.iter().map(|turn| turn.charged_s).max();
    Ok(DaySchedule {
        events: events(&day, &run),
        flights_done: run.turns.len(),
        flights_without_stall: endless.turns.len(),
        first_stall: stall::first(&day, &counts, &run),
        stalled_for: time(stalled_s),
        fewest_sets: endless.sets_used,
        fewest_chargers,
        supply,
        greatest_power: Power::new::<watt>(greatest_w),
        energy: Energy::new::<joule>(energy_j),
        all_charged: charged_s.filter(|&at_s| at_s < NEVER).map(time),
    })
}

fn events(day: &PlainDay, run: &DayRun) -> Vec<DayEvent> {
    let mut events = Vec::new();
    for (flight, (turn, wanted)) in run.turns.iter().zip(&day.flights).enumerate() {
        for (kind, start_s, end_s) in stretches(day, turn) {
            let is_charge = kind == DayEventKind::Charge;
            if end_s > start_s && start_s < NEVER {
                events.push(DayEvent {
                    kind,
                    start: time(start_s),
                    end: time(end_s),
                    flight,
                    set_kind: wanted.kind,
                    set: turn.set,
                    charger: is_charge.then_some(turn.charger),
                });
            }
        }
    }
    events
}

fn stretches(day: &PlainDay, turn: &Turn) -> [(DayEventKind, i64, i64); 6] {
    // A set that is never charged waits to the end of the day.
    let held_until_s = if turn.charge_s < NEVER { turn.charge_s } else { day.wrap_s };
    [
        (DayEventKind::WaitForSet, turn.wanted_s, turn.start_s),
        (DayEventKind::WarmUp, turn.start_s - day.warm_up_s, turn.start_s),
        (DayEventKind::Flight, turn.start_s, turn.landed_s),
        (DayEventKind::CoolDown, turn.landed_s, turn.cooled_s),
        (DayEventKind::WaitForCharger, turn.cooled_s, held_until_s),
        (DayEventKind::Charge, turn.charge_s, turn.charged_s),
    ]
}

/// What all chargers take, from change to change.
fn supply(day: &PlainDay, run: &DayRun) -> Vec<SupplyStep> {
    let mut changes: Vec<(i64, f64)> = Vec::new();
    for (turn, flight) in run.turns.iter().zip(&day.flights) {
        if turn.charge_s >= NEVER {
            continue;
        }
        let mut from_s = 0;
        for (end_s, power_w) in flight.steps() {
            changes.push((turn.charge_s + from_s, *power_w));
            changes.push((turn.charge_s + end_s, -power_w));
            from_s = *end_s;
        }
    }
    changes.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)));
    let mut steps: Vec<SupplyStep> = Vec::new();
    let mut sum_w = 0.0;
    for at in changes.chunk_by(|a, b| a.0 == b.0) {
        sum_w += at.iter().map(|(_, change_w)| change_w).sum::<f64>();
        // What adding and taking away leaves of nothing.
        let power_w = if sum_w.abs() < 1e-6 { 0.0 } else { sum_w };
        if let Some((at_s, _)) = at.first() {
            steps.push(SupplyStep { from: time(*at_s), power: Power::new::<watt>(power_w) });
        }
    }
    steps
}
