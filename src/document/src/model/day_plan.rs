//! A day as wanted: flights in their order, pack sets, chargers, supply.

use liftmargin_core::charge::Charger;
use liftmargin_core::day::DayPlan as CoreDay;
use liftmargin_core::input_range::{InputRange, Kind};
use serde::{Deserialize, Serialize};

use super::{Extra, parts};
use crate::fields::{Field, Word, fields, part_fields, word};

liftmargin_core::keyed! {
    /// What feeds the chargers.
    pub enum SupplyKind {
        /// A socket.
        Mains = "mains",
        /// A generator.
        Generator = "generator",
        /// A vehicle.
        Vehicle = "vehicle",
    }
}

/// A day as wanted.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct DayPlan {
    /// Reference.
    pub id: String,
    /// Shown name.
    pub name: String,
    /// `2026-04-30`, for a calendar.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub date: String,
    /// Time of the day, `08:05`.
    pub start: String,
    /// The last flight has landed by, `18:30`.
    pub wrap: String,
    /// Crew, from a landing to the next start.
    pub turn_round_min: f64,
    /// A set, from landing to the earliest charge.
    pub cool_down_min: f64,
    /// A set, warmed before its flight.
    #[serde(default)]
    pub warm_up_min: f64,
    /// Chargers, all alike.
    pub chargers: u32,
    /// Into the packs, all channels of a charger together.
    pub charger_power_w: f64,
    /// Of a channel.
    pub charger_current_a: f64,
    /// Into the packs over out of the supply, per cent.
    pub charger_efficiency_percent: f64,
    /// `mains`, `generator` or `vehicle`.
    pub supply: String,
    /// What all chargers together may take.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub supply_limit_w: Option<f64>,
    /// Of a generator.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fuel_l_per_kwh: Option<f64>,
    /// How many sets there are of each kind.
    #[serde(default)]
    pub sets: Vec<DaySets>,
    /// In the order in which they are flown.
    #[serde(default)]
    pub flights: Vec<WantedFlight>,
    /// Of a later version.
    #[serde(flatten)]
    pub extra: Extra,
}

/// Sets of the packs that a setup flies; setups with the same packs share them.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct DaySets {
    /// Setup id.
    pub setup: String,
    /// How many.
    pub count: u32,
    /// Of a later version.
    #[serde(flatten)]
    pub extra: Extra,
}

/// Flights alike, one after another.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct WantedFlight {
    /// Setup id.
    pub setup: String,
    /// Not before, `08:05`; empty: as soon as it can be.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub earliest: String,
    /// How many.
    pub count: u32,
    /// From motor start to touchdown; absent: as long as the card allows.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub flight_time_min: Option<f64>,
    /// Of a later version.
    #[serde(flatten)]
    pub extra: Extra,
}

parts!(DayPlan { sets, flights });
parts!(DaySets {});
parts!(WantedFlight {});

static FUEL: InputRange = InputRange::new("fuel_per_energy", Kind::Number, 0.0, 10.0);
static WANTED: InputRange = InputRange::new("flights_alike", Kind::Count, 1.0, 100.0);

fields! {
    /// The crew's and the packs' pauses.
    DAY_PAUSES of DayPlan {
        TURN_ROUND = (turn_round_min, Minute, CoreDay::PAUSE, "Turn-round", "Crew, from a landing to the next start.");
        COOL_DOWN = (cool_down_min, Minute, CoreDay::PAUSE, "Cool-down", "A pack set, from landing to its charge.");
        DAY_WARM_UP = (warm_up_min, Minute, CoreDay::PAUSE, "Warming", "A pack set, before its flight.");
    }
}

fields! {
    /// What charges.
    DAY_CHARGERS of DayPlan {
        CHARGERS = (count chargers, Count, CoreDay::CHARGERS, "Chargers", "Each charges one pack set at a time.");
        CHARGER_POWER = (charger_power_w, Watt, Charger::OUTPUT_POWER, "Charger power", "Of one charger, into the packs, all channels together.");
        CHARGER_CURRENT = (charger_current_a, Ampere, Charger::OUTPUT_CURRENT, "Charger current", "Of one channel; each pack of a set has one.");
        CHARGER_EFFICIENCY = (charger_efficiency_percent, Percent, Charger::EFFICIENCY, "Charger efficiency", "Into the packs over out of the supply. 85 to 90 % is common practice, no source.");
        SUPPLY_LIMIT = (optional supply_limit_w, Watt, CoreDay::SUPPLY_LIMIT, "Supply limit", "What all chargers together may take; empty means no limit.");
        FUEL_PER_KWH = (optional fuel_l_per_kwh, One, FUEL, "Fuel per kWh, litres", "Of the generator; 0.5 is common practice, no source.");
    }
}

part_fields! {
    DaySets {
        DAY_SETS = (count count, Count, liftmargin_core::day::SetKind::COUNT, "Pack sets", "All packs of one flight make a set.");
    }
}

part_fields! {
    WantedFlight {
        FLIGHTS_ALIKE = (count count, Count, WANTED, "Flights", "Alike, one after another.");
        WANTED_TIME = (optional flight_time_min, Minute, CoreDay::FLIGHT_DURATION, "Flight time", "From motor start to touchdown; empty means as long as the card allows.");
    }
}

/// What feeds the chargers of a day.
pub static DAY_SUPPLY: Word = word!(DayPlan, "what feeds the chargers", supply);

/// Numbers of each line of flights.
pub static WANTED_FLIGHT: [&Field<WantedFlight>; 2] = [&FLIGHTS_ALIKE, &WANTED_TIME];
