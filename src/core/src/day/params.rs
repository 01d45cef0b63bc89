//! What a day is planned with, and what comes of it.

use crate::input_range::{InputRange, Kind};
use crate::units::{Energy, Power, Time};

/// A stretch of a charge at a power that holds for all of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ChargeStep {
    /// How long.
    pub duration: Time,
    /// Taken from the supply, at most.
    pub power: Power,
}

impl ChargeStep {
    /// 1 s to 24 h.
    pub const DURATION: InputRange = InputRange::new("charge_duration", Kind::Duration, 1.0, 86_400.0);
    /// 0 to 100 kW.
    pub const POWER: InputRange = InputRange::new("charge_power", Kind::Power, 0.0, 100_000.0);
    /// 0 to 16 in one charge.
    pub const STEPS: InputRange = InputRange::new("charge_steps", Kind::Count, 0.0, 16.0);
}

/// Pack sets of one kind: any of them can fly the same flights.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SetKind {
    /// How many.
    pub count: u32,
    /// Since midnight: from when they are there, charged.
    pub available_from: Time,
}

impl SetKind {
    /// 0 to 200.
    pub const COUNT: InputRange = InputRange::new("pack_sets", Kind::Count, 0.0, 200.0);
}

/// A wanted flight.
#[derive(Debug, Clone, PartialEq)]
pub struct DayFlight {
    /// The kind of set it flies, from 0.
    pub set: usize,
    /// Since midnight: not before.
    pub earliest: Time,
    /// From motor start to touchdown.
    pub duration: Time,
    /// How the set is charged after it: power never rising from step to step.
    pub charge: Vec<ChargeStep>,
    /// What that charge takes from the supply in all.
    pub charge_energy: Energy,
}

/// A day as wanted. Times of the day are since its midnight.
#[derive(Debug, Clone, PartialEq)]
pub struct DayPlan {
    /// Nothing happens before.
    pub start: Time,
    /// The last flight has landed by.
    pub wrap: Time,
    /// Crew, from a landing to the next start.
    pub turn_round: Time,
    /// A set, from landing to the earliest charge.
    pub cool_down: Time,
    /// A set, warmed right before its flight.
    pub warm_up: Time,
    /// Kinds of pack sets.
    pub sets: Vec<SetKind>,
    /// Chargers, all alike, each one set at a time.
    pub chargers: u32,
    /// What all chargers together may take; none without a limit.
    pub supply_limit: Option<Power>,
    /// In the order in which they are flown.
    pub flights: Vec<DayFlight>,
}

impl DayPlan {
    /// Time of the day: two days.
    pub const TIME_OF_DAY: InputRange = InputRange::new("time_of_day", Kind::Duration, 0.0, 172_800.0);
    /// 0 to 12 h.
    pub const PAUSE: InputRange = InputRange::new("pause", Kind::Duration, 0.0, 43_200.0);
    /// 1 s to 4 h.
    pub const FLIGHT_DURATION: InputRange = InputRange::new("flight_duration", Kind::Duration, 1.0, 14_400.0);
    /// 1 to 20 kinds.
    pub const KINDS: InputRange = InputRange::new("kinds_of_sets", Kind::Count, 1.0, 20.0);
    /// 0 to 200.
    pub const CHARGERS: InputRange = InputRange::new("chargers", Kind::Count, 0.0, 200.0);
    /// 10 W to 1 MW.
    pub const SUPPLY_LIMIT: InputRange = InputRange::new("supply_limit", Kind::Power, 10.0, 1e6);
    /// 0 to 500.
    pub const FLIGHTS: InputRange = InputRange::new("flights", Kind::Count, 0.0, 500.0);
    /// 0 to 1 GJ.
    pub const CHARGE_ENERGY: InputRange = InputRange::new("charge_energy", Kind::Number, 0.0, 1e9);
}

crate::keyed! {
    /// What a set, or the crew, does for a while.
    pub enum DayEventKind {
        /// The crew waits for a set, all else being ready.
        WaitForSet = "wait-for-set",
        /// The set is warmed.
        WarmUp = "warm-up",
        /// It flies.
        Flight = "flight",
        /// It cools.
        CoolDown = "cool-down",
        /// It waits for a charger, or for power.
        WaitForCharger = "wait-for-charger",
        /// It is charged.
        Charge = "charge",
    }
}

/// One stretch of the day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DayEvent {
    /// What happens.
    pub kind: DayEventKind,
    /// Since midnight.
    pub start: Time,
    /// Since midnight.
    pub end: Time,
    /// The flight that it belongs to, from 0.
    pub flight: usize,
    /// The kind of its set, from 0.
    pub set_kind: usize,
    /// Which of that kind, from 0.
    pub set: usize,
    /// Which charger, from 0; none where there is none.
    pub charger: Option<usize>,
}

crate::keyed! {
    /// What there is too little of.
    pub enum Bottleneck {
        /// Pack sets.
        Sets = "sets",
        /// Chargers.
        Chargers = "chargers",
        /// Power for the chargers.
        Supply = "supply",
    }
}

/// The first time that the crew waits for a set.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stall {
    /// The flight that waits, from 0.
    pub flight: usize,
    /// Since midnight: all but a set is ready.
    pub from: Time,
    /// When a set is ready; none where none ever will be.
    pub until: Option<Time>,
    /// What there is too little of.
    pub bottleneck: Bottleneck,
    /// So many more chargers end this wait; none where no number does.
    pub more_chargers: Option<u32>,
    /// So many more sets of its kind end this wait.
    pub more_sets: Option<u32>,
    /// Power without a limit ends this wait.
    pub more_power: bool,
}

/// What the chargers take from the supply, at most, from a moment on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SupplyStep {
    /// Since midnight.
    pub from: Time,
    /// Of all chargers together.
    pub power: Power,
}

/// A day as it goes.
#[derive(Debug, Clone, PartialEq)]
pub struct DaySchedule {
    /// By flight, and in the order of time within one.
    pub events: Vec<DayEvent>,
    /// Flights that land by wrap.
    pub flights_done: usize,
    /// Flights that would, if nobody ever waited for a set.
    pub flights_without_stall: usize,
    /// The first wait for a set.
    pub first_stall: Option<Stall>,
    /// All waiting for sets.
    pub stalled_for: Time,
    /// So many sets of each kind, with the chargers and power there are, and nobody waits.
    pub fewest_sets: Vec<u32>,
    /// So many chargers, with the sets and power there are, and nobody waits; none where no number does.
    pub fewest_chargers: Option<u32>,
    /// What the supply gives over the day, from the first charge on.
    pub supply: Vec<SupplyStep>,
    /// Most of it at once.
    pub greatest_power: Power,
    /// Taken from the supply in all, charges after the last flight included.
    pub energy: Energy,
    /// Since midnight: every set stands charged again; none where one never does, or none was flown.
    pub all_charged: Option<Time>,
}
