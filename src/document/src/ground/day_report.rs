//! What is said of a day: the schedule with names, clock times, words.

use liftmargin_core::day::{Bottleneck, DayEvent, DayPlan, DaySchedule, Stall, schedule};
use liftmargin_core::input_error::InputError;
use serde::Serialize;
use uom::si::energy::watt_hour;
use uom::si::power::watt;
use uom::si::time::second;

use super::clock;

/// A day ready to be scheduled, with the names of its things.
#[derive(Debug, Clone, PartialEq)]
pub struct PlannedDay {
    /// As core takes it.
    pub plan: DayPlan,
    /// Of each kind of set.
    pub set_names: Vec<String>,
    /// Of each flight: the setup.
    pub flight_names: Vec<String>,
    /// Litres of fuel for each kWh out of the generator; none where there is none.
    pub fuel_l_per_kwh: Option<f64>,
}

/// One stretch of the day.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[allow(missing_docs, reason = "each name says what it holds, with its unit")]
pub struct EventReport {
    /// `wait-for-set`, `warm-up`, `flight`, `cool-down`, `wait-for-charger`, `charge`.
    pub event: &'static str,
    pub start: String,
    pub end: String,
    pub start_s: f64,
    pub end_s: f64,
    /// From 1.
    pub flight: usize,
    pub setup: String,
    /// Kind and number: `Eight 2`.
    pub set: String,
    /// From 1.
    pub charger: Option<usize>,
}

/// The first wait for a set.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[allow(missing_docs, reason = "each name says what it holds, with its unit")]
pub struct StallReport {
    /// From 1.
    pub flight: usize,
    pub from: String,
    pub from_s: f64,
    pub until: Option<String>,
    /// `sets`, `chargers`, `supply`.
    pub bottleneck: &'static str,
    pub more_chargers: Option<u32>,
    pub more_sets: Option<u32>,
    pub more_power: bool,
    pub words: String,
}

/// Fewest sets of a kind.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[allow(missing_docs, reason = "each name says what it holds")]
pub struct FewestReport {
    pub set: String,
    pub count: u32,
    pub fewest: u32,
}

/// A day as it goes.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[allow(missing_docs, reason = "each name says what it holds, with its unit")]
pub struct DayReport {
    pub flights_wanted: usize,
    pub flights_done: usize,
    pub flights_without_stall: usize,
    pub first_stall: Option<StallReport>,
    pub stalled_for_s: f64,
    /// For no wait at all, with the chargers and power there are.
    pub fewest_sets: Vec<FewestReport>,
    /// For no wait at all, with the sets and power there are; none where no number does.
    pub fewest_chargers: Option<u32>,
    pub energy_wh: f64,
    pub greatest_power_w: f64,
    pub fuel_l: Option<f64>,
    pub all_charged: Option<String>,
    pub events: Vec<EventReport>,
}

impl PlannedDay {
    /// The day scheduled.
    ///
    /// # Errors
    /// As core's `schedule`.
    pub fn scheduled(&self) -> Result<DaySchedule, InputError> {
        schedule(&self.plan)
    }

    /// The name of a set: kind and number.
    pub fn set_name(&self, kind: usize, set: usize) -> String {
        let name = self.set_names.get(kind).map_or("", String::as_str);
        format!("{name} {}", set + 1).trim_start().to_owned()
    }

    /// What is said of it.
    pub fn report(&self, day: &DaySchedule) -> DayReport {
        let energy_wh = day.energy.get::<watt_hour>();
        let fewest = day.fewest_sets.iter().zip(&self.plan.sets).zip(&self.set_names);
        DayReport {
            flights_wanted: self.plan.flights.len(),
            flights_done: day.flights_done,
            flights_without_stall: day.flights_without_stall,
            first_stall: day.first_stall.as_ref().map(|stall| self.stall(stall)),
            stalled_for_s: day.stalled_for.get::<second>(),
            fewest_sets: fewest
                .map(|((fewest, kind), name)| FewestReport {
                    set: name.clone(),
                    count: kind.count,
                    fewest: *fewest,
                })
                .collect(),
            fewest_chargers: day.fewest_chargers,
            energy_wh,
            greatest_power_w: day.greatest_power.get::<watt>(),
            fuel_l: self.fuel_l_per_kwh.map(|litres| litres * energy_wh / 1000.0),
            all_charged: day.all_charged.map(|time| clock::exact(time.get::<second>())),
            events: day.events.iter().map(|event| self.event(event)).collect(),
        }
    }

    fn event(&self, event: &DayEvent) -> EventReport {
        let (start_s, end_s) = (event.start.get::<second>(), event.end.get::<second>());
        EventReport {
            event: event.kind.key(),
            start: clock::exact(start_s),
            end: clock::exact(end_s),
            start_s,
            end_s,
            flight: event.flight + 1,
            setup: self.flight_names.get(event.flight).cloned().unwrap_or_default(),
            set: self.set_name(event.set_kind, event.set),
            charger: event.charger.map(|charger| charger + 1),
        }
    }

    fn stall(&self, stall: &Stall) -> StallReport {
        StallReport {
            flight: stall.flight + 1,
            from: clock::exact(stall.from.get::<second>()),
            from_s: stall.from.get::<second>(),
            until: stall.until.map(|time| clock::exact(time.get::<second>())),
            bottleneck: stall.bottleneck.key(),
            more_chargers: stall.more_chargers,
            more_sets: stall.more_sets,
            more_power: stall.more_power,
            words: self.stall_words(stall),
        }
    }

    /// `From 14:10 waiting for chargers, for flight 7: one more charger ends it.`
    pub fn stall_words(&self, stall: &Stall) -> String {
        let from = clock::shown(stall.from.get::<second>());
        let kind = self.plan.flights.get(stall.flight).map_or(0, |flight| flight.set);
        let name = self.set_names.get(kind).map_or("", String::as_str);
        let for_what = match stall.bottleneck {
            Bottleneck::Sets if self.set_names.len() > 1 => format!("a charged set ({name})"),
            Bottleneck::Sets => "a charged set".to_owned(),
            Bottleneck::Chargers => "a charger".to_owned(),
            Bottleneck::Supply => "power to charge with".to_owned(),
        };
        let chargers = stall.more_chargers.map(|more| counted(more, "charger"));
        let sets = stall.more_sets.map(|more| counted(more, "set"));
        let power = stall.more_power.then(|| "a stronger supply".to_owned());
        let first = match stall.bottleneck {
            Bottleneck::Sets => &sets,
            Bottleneck::Chargers => &chargers,
            Bottleneck::Supply => &power,
        };
        let mut cures: Vec<&String> = first.iter().collect();
        let others = [&chargers, &power, &sets].into_iter().flatten();
        cures.extend(others.filter(|cure| Some(*cure) != first.as_ref()));
        let cures: Vec<&str> = cures.into_iter().map(String::as_str).collect();
        let ends = if cures.is_empty() {
            "nothing that is counted here ends it".to_owned()
        } else {
            format!("{} {} it", cures.join(" or "), if cures.len() == 1 { ends(stall) } else { "ends" })
        };
        format!("From {from} waiting for {for_what}, before flight {}: {ends}.", stall.flight + 1)
    }
}

/// One charger ends it, two end it.
fn ends(stall: &Stall) -> &'static str {
    let more = match stall.bottleneck {
        Bottleneck::Sets => stall.more_sets,
        Bottleneck::Chargers => stall.more_chargers.or(stall.more_sets),
        Bottleneck::Supply => None,
    };
    if more.is_some_and(|more| more > 1) { "end" } else { "ends" }
}

fn counted(more: u32, what: &str) -> String {
    if more == 1 { format!("one more {what}") } else { format!("{more} more {what}s") }
}
