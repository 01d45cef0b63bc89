//! The day run once, in whole seconds: sets by when they stand charged, chargers first come, first served.
//!
//! Formula, Source, Valid, Assumes: see the station. Units: s since midnight, W.

use super::params::{ChargeStep, DayFlight, DayPlan};
use crate::input_error::{DayFault, InputError};

/// Later than any day.
pub(super) const NEVER: i64 = i64::MAX / 4;
/// Watts that adding up may cost, as a share of the limit.
const SLACK: f64 = 1e-9;

/// A flight in plain numbers.
#[derive(Debug, Clone)]
pub(super) struct WantedFlight {
    pub kind: usize,
    pub earliest_s: i64,
    pub duration_s: i64,
    /// End of each step since the start of the charge, and its power.
    steps: Vec<(i64, f64)>,
}

impl WantedFlight {
    fn charge_s(&self) -> i64 {
        self.steps.last().map_or(0, |(end_s, _)| *end_s)
    }

    pub fn steps(&self) -> &[(i64, f64)] {
        &self.steps
    }

    fn greatest_w(&self) -> f64 {
        self.steps.first().map_or(0.0, |(_, power_w)| *power_w)
    }

    /// Power so long after the start of the charge.
    fn power_w(&self, since_s: i64) -> f64 {
        self.steps.iter().find(|(end_s, _)| since_s < *end_s).map_or(0.0, |(_, power_w)| *power_w)
    }
}

/// A day in plain numbers.
#[derive(Debug, Clone)]
pub(super) struct PlainDay {
    pub start_s: i64,
    pub wrap_s: i64,
    pub turn_round_s: i64,
    pub cool_down_s: i64,
    pub warm_up_s: i64,
    /// When sets of a kind are there.
    pub available_s: Vec<i64>,
    pub flights: Vec<WantedFlight>,
}

/// How much there is of everything.
#[derive(Debug, Clone)]
pub(super) struct Counts {
    /// Of each kind; none for as many as are asked for.
    pub sets: Option<Vec<u32>>,
    pub chargers: u32,
    pub limit_w: f64,
}

/// What kept a set from its charge after it was cool.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum HeldBy {
    Nothing,
    Chargers,
    Supply,
}

/// A flight as it goes, and its set's way back.
#[derive(Debug, Clone, Copy)]
pub(super) struct Turn {
    /// When it would start if a set were ready.
    pub wanted_s: i64,
    pub start_s: i64,
    pub landed_s: i64,
    pub set: usize,
    pub cooled_s: i64,
    pub charge_s: i64,
    pub charged_s: i64,
    pub charger: usize,
    pub held_by: HeldBy,
    /// The flight before it that flew the same set.
    pub set_flown_by: Option<usize>,
}

/// A day run to its end.
#[derive(Debug, Clone, Default)]
pub(super) struct DayRun {
    /// Flights that land by wrap.
    pub turns: Vec<Turn>,
    /// The first that does not, for want of a set: when it would start with one, when it could, who flew that set last.
    pub refused: Option<(i64, i64, Option<usize>)>,
    /// Sets in use, of each kind.
    pub sets_used: Vec<u32>,
}

/// A set: when it stands charged, and whose flight emptied it last.
#[derive(Debug, Clone, Copy)]
struct SetState {
    ready_s: i64,
    flown_by: Option<usize>,
}

fn whole_s(seconds: f64) -> i64 {
    // Whole seconds that a unit conversion has blurred stay what they were.
    (seconds - 1e-6).ceil() as i64
}

impl PlainDay {
    pub fn of(plan: &DayPlan) -> Result<(Self, Counts), InputError> {
        DayPlan::KINDS.check(plan.sets.len() as f64)?;
        DayPlan::FLIGHTS.check(plan.flights.len() as f64)?;
        let limit_w = match plan.supply_limit {
            Some(limit) => DayPlan::SUPPLY_LIMIT.check(limit.value)?,
            None => f64::INFINITY,
        };
        let of_day = |time: f64| DayPlan::TIME_OF_DAY.check(time).map(whole_s);
        let pause = |time: f64| DayPlan::PAUSE.check(time).map(whole_s);
        let mut available_s = Vec::new();
        let mut sets = Vec::new();
        for kind in &plan.sets {
            super::params::SetKind::COUNT.check(f64::from(kind.count))?;
            available_s.push(of_day(kind.available_from.value)?);
            sets.push(kind.count);
        }
        let mut flights = Vec::new();
        for (index, flight) in plan.flights.iter().enumerate() {
            flights.push(plain_flight(index, flight, plan.sets.len(), limit_w)?);
        }
        let day = Self {
            start_s: of_day(plan.start.value)?,
            wrap_s: of_day(plan.wrap.value)?,
            turn_round_s: pause(plan.turn_round.value)?,
            cool_down_s: pause(plan.cool_down.value)?,
            warm_up_s: pause(plan.warm_up.value)?,
            available_s,
            flights,
        };
        DayPlan::CHARGERS.check(f64::from(plan.chargers))?;
        Ok((day, Counts { sets: Some(sets), chargers: plan.chargers, limit_w }))
    }

    pub fn run(&self, counts: &Counts) -> DayRun {
        let mut running = Running::new(self, counts);
        let mut run = DayRun::default();
        for (index, flight) in self.flights.iter().enumerate() {
            let wanted_s = running.wanted_s(flight, run.turns.last());
            if wanted_s + flight.duration_s > self.wrap_s {
                break;
            }
            let set = running.take_set(flight.kind, wanted_s);
            let (set, state) = set.unwrap_or((0, SetState { ready_s: NEVER, flown_by: None }));
            let start_s = wanted_s.max(state.ready_s.saturating_add(self.warm_up_s)).min(NEVER);
            if start_s + flight.duration_s > self.wrap_s {
                run.refused = Some((wanted_s, start_s, state.flown_by));
                break;
            }
            let mut turn = running.charged(index, flight, start_s + flight.duration_s);
            (turn.wanted_s, turn.start_s) = (wanted_s, start_s);
            (turn.set, turn.set_flown_by) = (set, state.flown_by);
            running.put_set(flight.kind, set, SetState { ready_s: turn.charged_s, flown_by: Some(index) });
            run.turns.push(turn);
        }
        run.sets_used = running.sets.iter().map(|sets| sets.len() as u32).collect();
        run
    }
}

fn plain_flight(
    index: usize,
    flight: &DayFlight,
    kinds: usize,
    limit_w: f64,
) -> Result<WantedFlight, InputError> {
    if flight.set >= kinds {
        return Err(InputError::Day(DayFault::NoSuchSet { flight: index, set: flight.set, kinds }));
    }
    ChargeStep::STEPS.check(flight.charge.len() as f64)?;
    DayPlan::CHARGE_ENERGY.check(flight.charge_energy.value)?;
    let (mut steps, mut end_s, mut before_w) = (Vec::new(), 0, f64::INFINITY);
    for step in &flight.charge {
        end_s += whole_s(ChargeStep::DURATION.check(step.duration.value)?);
        let power_w = ChargeStep::POWER.check(step.power.value)?;
        if power_w > before_w {
            return Err(InputError::Day(DayFault::ChargeRises { flight: index }));
        }
        if power_w > limit_w * (1.0 + SLACK) {
            let fault = DayFault::ChargeAboveSupply { flight: index, needed_w: power_w, supply_w: limit_w };
            return Err(InputError::Day(fault));
        }
        before_w = power_w;
        steps.push((end_s, power_w));
    }
    Ok(WantedFlight {
        kind: flight.set,
        earliest_s: whole_s(DayPlan::TIME_OF_DAY.check(flight.earliest.value)?),
        duration_s: whole_s(DayPlan::FLIGHT_DURATION.check(flight.duration.value)?),
        steps,
    })
}

/// A charge that has begun.
#[derive(Clone, Copy)]
struct Charging {
    flight: usize,
    start_s: i64,
    end_s: i64,
}

/// Sets and chargers while the day runs.
struct Running<'a> {
    day: &'a PlainDay,
    limit_w: f64,
    /// Whether a set is there whenever one is asked for.
    is_endless: bool,
    sets: Vec<Vec<SetState>>,
    /// When each charger is free.
    chargers_s: Vec<i64>,
    charging: Vec<Charging>,
    /// No charge begins before the one before it.
    last_charge_s: i64,
    last_held_by: HeldBy,
}

impl<'a> Running<'a> {
    fn new(day: &'a PlainDay, counts: &Counts) -> Self {
        let kinds = day.available_s.iter().enumerate();
        let sets = kinds.map(|(kind, &available_s)| {
            let count = counts.sets.as_ref().and_then(|sets| sets.get(kind)).copied().unwrap_or(0);
            let fresh = SetState { ready_s: available_s.max(day.start_s), flown_by: None };
            vec![fresh; count as usize]
        });
        Self {
            day,
            limit_w: counts.limit_w * (1.0 + SLACK),
            is_endless: counts.sets.is_none(),
            sets: sets.collect(),
            chargers_s: vec![i64::MIN; counts.chargers as usize],
            charging: Vec::new(),
            last_charge_s: i64::MIN,
            last_held_by: HeldBy::Nothing,
        }
    }

    fn fresh_s(&self, kind: usize) -> i64 {
        self.day.available_s.get(kind).copied().unwrap_or(NEVER).max(self.day.start_s)
    }

    /// When a flight would start with sets without end.
    fn wanted_s(&self, flight: &WantedFlight, before: Option<&Turn>) -> i64 {
        let crew_s = before.map_or(self.day.start_s, |turn| turn.landed_s + self.day.turn_round_s);
        crew_s.max(flight.earliest_s).max(self.fresh_s(flight.kind) + self.day.warm_up_s)
    }

    /// The set that stands charged first; the first of equals.
    fn take_set(&mut self, kind: usize, wanted_s: i64) -> Option<(usize, SetState)> {
        let fresh_s = self.fresh_s(kind);
        let sets = self.sets.get_mut(kind)?;
        let first = sets.iter().copied().enumerate().min_by_key(|(index, set)| (set.ready_s, *index));
        let in_time = first.filter(|(_, set)| set.ready_s.saturating_add(self.day.warm_up_s) <= wanted_s);
        if in_time.is_none() && self.is_endless {
            sets.push(SetState { ready_s: fresh_s, flown_by: None });
            return sets.last().map(|set| (sets.len() - 1, *set));
        }
        first
    }

    fn put_set(&mut self, kind: usize, set: usize, state: SetState) {
        if let Some(place) = self.sets.get_mut(kind).and_then(|sets| sets.get_mut(set)) {
            *place = state;
        }
    }

    /// What all charges take at a moment not before the last one's start.
    fn drawn_w(&self, at_s: i64) -> f64 {
        let of = |charge: &Charging| {
            self.day.flights.get(charge.flight).map_or(0.0, |flight| flight.power_w(at_s - charge.start_s))
        };
        self.charging.iter().map(of).sum()
    }

    /// The first moment from `from_s` on at which a further charge finds its power.
    fn powered_s(&self, flight: &WantedFlight, from_s: i64) -> i64 {
        let has_room = |at_s: i64| self.drawn_w(at_s) + flight.greatest_w() <= self.limit_w;
        if self.limit_w.is_infinite() || has_room(from_s) {
            return from_s;
        }
        let mut changes: Vec<i64> = Vec::new();
        for charge in &self.charging {
            let steps = self.day.flights.get(charge.flight).map_or(&[][..], |flight| &flight.steps);
            changes.extend(steps.iter().map(|(end_s, _)| charge.start_s + end_s).filter(|&at| at > from_s));
        }
        changes.sort_unstable();
        changes.into_iter().find(|&at_s| has_room(at_s)).unwrap_or(NEVER)
    }

    /// The landed set's way to its charge and through it.
    fn charged(&mut self, index: usize, flight: &WantedFlight, landed_s: i64) -> Turn {
        let cooled_s = landed_s + self.day.cool_down_s;
        let charger_free_s = self.chargers_s.iter().copied().min().unwrap_or(NEVER);
        let in_turn_s = cooled_s.max(self.last_charge_s);
        let with_charger_s = in_turn_s.max(charger_free_s);
        self.charging.retain(|charge| charge.end_s > in_turn_s);
        let charge_s = if with_charger_s >= NEVER { NEVER } else { self.powered_s(flight, with_charger_s) };
        let held_by = if charge_s > with_charger_s {
            HeldBy::Supply
        } else if with_charger_s > in_turn_s {
            HeldBy::Chargers
        } else if in_turn_s > cooled_s {
            // Behind one that was held.
            self.last_held_by
        } else {
            HeldBy::Nothing
        };
        let charged_s = if charge_s >= NEVER { NEVER } else { charge_s + flight.charge_s() };
        let charger = self.chargers_s.iter().position(|&free_s| free_s <= charge_s).unwrap_or(0);
        if let Some(free_s) = self.chargers_s.get_mut(charger) {
            *free_s = charged_s;
        }
        if charge_s < NEVER {
            self.charging.push(Charging { flight: index, start_s: charge_s, end_s: charged_s });
        }
        (self.last_charge_s, self.last_held_by) = (charge_s, held_by);
        Turn {
            wanted_s: landed_s,
            start_s: landed_s,
            landed_s,
            set: 0,
            cooled_s,
            charge_s,
            charged_s,
            charger,
            held_by,
            set_flown_by: None,
        }
    }
}
