//! The first wait for a set, what there is too little of, and what ends it.
//!
//! Formula: the first flight that starts later than it would with a set at hand. The set it gets (of which it waits for the
//! charge) was held by chargers or by power where it waited for them; else it takes its time and sets are too few. Each
//! remedy is found by running the day again. Units: s. Source: own. Valid, Assumes: see the station.

use super::counts::fewest;
use super::params::{Bottleneck, SetKind, Stall};
use super::queue::{Counts, DayRun, HeldBy, NEVER, PlainDay};
use super::timeline::time;

/// A flight that waits.
#[derive(Debug, Clone, Copy)]
pub(super) struct Waiting {
    pub flight: usize,
    pub wanted_s: i64,
    pub start_s: i64,
    flown_by: Option<usize>,
}

/// The first flight that waits for a set and would land by wrap if it did not.
pub(super) fn first_wait(run: &DayRun) -> Option<Waiting> {
    let flown = run.turns.iter().enumerate().find(|(_, turn)| turn.start_s > turn.wanted_s);
    if let Some((flight, turn)) = flown {
        let (wanted_s, start_s) = (turn.wanted_s, turn.start_s);
        return Some(Waiting { flight, wanted_s, start_s, flown_by: turn.set_flown_by });
    }
    let (wanted_s, start_s, flown_by) = run.refused?;
    Some(Waiting { flight: run.turns.len(), wanted_s, start_s, flown_by })
}

/// Nobody waits for a set.
pub(super) fn runs_smoothly(day: &PlainDay, counts: &Counts) -> bool {
    first_wait(&day.run(counts)).is_none()
}

/// The first wait of a run.
pub(super) fn first(day: &PlainDay, counts: &Counts, run: &DayRun) -> Option<Stall> {
    let waiting = first_wait(run)?;
    // All before it are on time, and stay so with more of anything.
    let is_ended =
        |counts: &Counts| first_wait(&day.run(counts)).is_none_or(|wait| wait.flight > waiting.flight);
    let sets = counts.sets.clone().unwrap_or_default();
    let all_sets: u32 = sets.iter().sum();
    let with_chargers = |more: u32| Counts { chargers: counts.chargers + more, ..counts.clone() };
    let kind = day.flights.get(waiting.flight).map_or(0, |flight| flight.kind);
    let with_sets = |more: u32| {
        let mut sets = sets.clone();
        if let Some(count) = sets.get_mut(kind) {
            *count += more;
        }
        Counts { sets: Some(sets), ..counts.clone() }
    };
    // More chargers than sets, or more sets than flights, help no more.
    let more_chargers = fewest(1, all_sets.max(1), |more| is_ended(&with_chargers(more)));
    let most_sets = (day.flights.len() as u32).min(SetKind::COUNT.max as u32).max(1);
    let more_sets = fewest(1, most_sets, |more| is_ended(&with_sets(more)));
    let more_power = is_ended(&Counts { limit_w: f64::INFINITY, ..counts.clone() });
    let held_by = waiting.flown_by.and_then(|by| run.turns.get(by)).map(|turn| turn.held_by);
    let bottleneck = match held_by {
        Some(HeldBy::Chargers) => Bottleneck::Chargers,
        Some(HeldBy::Supply) => Bottleneck::Supply,
        _ => Bottleneck::Sets,
    };
    Some(Stall {
        flight: waiting.flight,
        from: time(waiting.wanted_s),
        until: (waiting.start_s < NEVER).then(|| time(waiting.start_s)),
        bottleneck,
        more_chargers,
        more_sets,
        more_power,
    })
}
