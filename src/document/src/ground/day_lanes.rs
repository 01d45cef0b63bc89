//! A day drawn: a lane for each set, and what stands in it; what happens at a moment, in words.

use liftmargin_core::day::{DayEvent, DayEventKind, DaySchedule};
use uom::si::power::watt;
use uom::si::time::second;

use super::clock;
use super::day_report::PlannedDay;
use crate::model::DayPlan;

/// A stretch in a lane.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bar {
    /// `flight`, `charge`, …
    pub kind: DayEventKind,
    /// Share of the day at which it starts.
    pub from: f64,
    /// Share of the day at which it ends.
    pub to: f64,
}

/// A set's day.
#[derive(Debug, Clone, PartialEq)]
pub struct Lane {
    /// The set.
    pub name: String,
    /// In no order.
    pub bars: Vec<Bar>,
}

/// A drawn day.
#[derive(Debug, Clone, PartialEq)]
pub struct Lanes {
    /// The crew: flying, or waiting for a set.
    pub crew: Lane,
    /// A lane a set.
    pub lanes: Vec<Lane>,
    /// Supply in use: share of the day from which on, share of the most.
    pub supply: Vec<(f64, f64)>,
    /// Full hours: share of the day, `09:00`.
    pub hours: Vec<(f64, String)>,
    /// Wrap, as a share of the day.
    pub wrap: f64,
    start_s: f64,
    end_s: f64,
}

impl Lanes {
    /// Of a day that was scheduled: from its start to wrap, or until all is charged.
    pub fn of(planned: &PlannedDay, day: &DaySchedule) -> Self {
        let start_s = planned.plan.start.get::<second>();
        let wrap_s = planned.plan.wrap.get::<second>();
        let last = day.events.iter().map(|event| event.end.get::<second>()).fold(wrap_s, f64::max);
        let end_s = last.max(start_s + 60.0);
        let share = |seconds: f64| ((seconds - start_s) / (end_s - start_s)).clamp(0.0, 1.0);
        let bar = |event: &DayEvent| Bar {
            kind: event.kind,
            from: share(event.start.get::<second>()),
            to: share(event.end.get::<second>()),
        };
        let is_crews =
            |event: &&DayEvent| matches!(event.kind, DayEventKind::Flight | DayEventKind::WaitForSet);
        let crew =
            Lane { name: "Crew".to_owned(), bars: day.events.iter().filter(is_crews).map(bar).collect() };
        let mut lanes: Vec<Lane> = Vec::new();
        for (kind, sets) in planned.plan.sets.iter().enumerate() {
            for set in 0..sets.count as usize {
                let own = day.events.iter().filter(|event| (event.set_kind, event.set) == (kind, set));
                let own = own.filter(|event| event.kind != DayEventKind::WaitForSet);
                let bars: Vec<Bar> = own.map(bar).collect();
                lanes.push(Lane { name: planned.set_name(kind, set), bars });
            }
        }
        let most_w = day.greatest_power.get::<watt>().max(1.0);
        let supply = day
            .supply
            .iter()
            .map(|step| (share(step.from.get::<second>()), step.power.get::<watt>() / most_w));
        // As many hours as stand side by side on a phone.
        let every = (((end_s - start_s) / 3600.0 / 6.0).ceil() as u32).max(1);
        let first = (start_s / 3600.0).ceil() as u32;
        let hours = (first..).step_by(every as usize).take(12).map(|hour| f64::from(hour) * 3600.0);
        let hours = hours
            .take_while(|seconds| *seconds <= end_s)
            .map(|seconds| (share(seconds), clock::shown(seconds)));
        Self {
            crew,
            lanes,
            supply: supply.collect(),
            hours: hours.collect(),
            wrap: share(wrap_s),
            start_s,
            end_s,
        }
    }

    /// What happens at a share of the day.
    pub fn reading(&self, planned: &PlannedDay, day: &DaySchedule, share: f64) -> String {
        let at_s = self.start_s + share * (self.end_s - self.start_s);
        let now = |event: &&DayEvent| event.start.get::<second>() <= at_s && at_s < event.end.get::<second>();
        let mut said = vec![clock::shown(at_s)];
        said.extend(day.events.iter().filter(now).map(|event| happens(planned, event)));
        let power = day.supply.iter().rfind(|step| step.from.get::<second>() <= at_s);
        let power_w = power.map_or(0.0, |step| step.power.get::<watt>());
        said.push(format!("supply {:.0} W", power_w.ceil()));
        said.join(" · ")
    }
}

fn happens(planned: &PlannedDay, event: &DayEvent) -> String {
    let set = planned.set_name(event.set_kind, event.set);
    let flight = event.flight + 1;
    match event.kind {
        DayEventKind::WaitForSet => format!("crew waits for a set, before flight {flight}"),
        DayEventKind::WarmUp => format!("{set} is warmed for flight {flight}"),
        DayEventKind::Flight => format!("flight {flight} with {set}"),
        DayEventKind::CoolDown => format!("{set} cools"),
        DayEventKind::WaitForCharger => format!("{set} waits for a charger"),
        DayEventKind::Charge => {
            format!("{set} on charger {}", event.charger.map_or(1, |charger| charger + 1))
        }
    }
}

/// What a stretch is called.
pub fn event_word(kind: DayEventKind) -> &'static str {
    match kind {
        DayEventKind::WaitForSet => "crew waits for a set",
        DayEventKind::WarmUp => "warming",
        DayEventKind::Flight => "flight",
        DayEventKind::CoolDown => "cooling",
        DayEventKind::WaitForCharger => "waits for a charger",
        DayEventKind::Charge => "charging",
    }
}

/// A row a flight: when, with which setup and set, and when and where that set is charged again.
pub fn flight_rows(planned: &PlannedDay, day: &DaySchedule) -> Vec<Vec<String>> {
    let clocks = |event: &DayEvent| {
        format!("{}–{}", clock::shown(event.start.get::<second>()), clock::shown(event.end.get::<second>()))
    };
    let flights = day.events.iter().filter(|event| event.kind == DayEventKind::Flight);
    let row = |flight: &DayEvent| {
        let charge = day
            .events
            .iter()
            .find(|event| event.kind == DayEventKind::Charge && event.flight == flight.flight);
        let charge = charge.map(|event| {
            let charger =
                event.charger.map(|charger| format!("\ncharger {}", charger + 1)).unwrap_or_default();
            format!("{}{charger}", clocks(event))
        });
        let setup = planned.flight_names.get(flight.flight).map_or("", String::as_str);
        vec![
            format!("{}", flight.flight + 1),
            format!("{}\n{setup}", clocks(flight)),
            if planned.set_names.len() == 1 {
                format!("set {}", flight.set + 1)
            } else {
                planned.set_name(flight.set_kind, flight.set)
            },
            charge.unwrap_or_else(|| "not charged again".to_owned()),
        ]
    };
    flights.map(row).collect()
}

/// What a day counts with, for paper: times, pauses, chargers, supply.
pub fn plan_words(day: &DayPlan) -> String {
    let power = |watts: f64| format!("{watts:.0}\u{a0}W");
    let limit =
        day.supply_limit_w.map_or_else(|| "no limit".to_owned(), |limit| format!("{} at most", power(limit)));
    let chargers =
        if day.chargers == 1 { "1 charger".to_owned() } else { format!("{} chargers", day.chargers) };
    format!(
        "From {} to {}. Turn-round {}\u{a0}min, cool-down {}\u{a0}min, warming {}\u{a0}min. {chargers} of {}, {}\u{a0}A a channel, \
         {}\u{a0}% efficient. Supply: {}, {limit}.",
        day.start,
        day.wrap,
        day.turn_round_min,
        day.cool_down_min,
        day.warm_up_min,
        power(day.charger_power_w),
        day.charger_current_a,
        day.charger_efficiency_percent,
        day.supply,
    )
}

/// A row of the table of all that happens: what, from, to, flight, set, charger.
pub fn event_rows(planned: &PlannedDay, day: &DaySchedule) -> Vec<Vec<String>> {
    let mut events: Vec<&DayEvent> = day.events.iter().collect();
    events.sort_by(|a, b| a.start.value.total_cmp(&b.start.value));
    let row = |event: &DayEvent| {
        let charger = event.charger.map(|charger| format!(", charger {}", charger + 1)).unwrap_or_default();
        let setup = planned.flight_names.get(event.flight).map_or("", String::as_str);
        vec![
            format!(
                "{}–{}",
                clock::shown(event.start.get::<second>()),
                clock::shown(event.end.get::<second>())
            ),
            format!("{}{charger}", event_word(event.kind)),
            planned.set_name(event.set_kind, event.set),
            format!("{}\n{setup}", event.flight + 1),
        ]
    };
    events.into_iter().map(row).collect()
}

/// What one more of anything would bring: what, flights done, wait in words.
pub fn what_ifs(planned: &PlannedDay) -> Vec<Vec<String>> {
    let mut rows = Vec::new();
    let mut row = |what: String, planned: &PlannedDay| {
        if let Ok(day) = planned.scheduled() {
            let wait = day.first_stall.as_ref().map_or_else(
                || "no waiting".to_owned(),
                |stall| format!("waits from {}", clock::shown(stall.from.get::<second>())),
            );
            rows.push(vec![what, format!("{}", day.flights_done), wait]);
        }
    };
    row("As planned".to_owned(), planned);
    for (kind, name) in planned.set_names.iter().enumerate() {
        for (more, words) in [(1, "One set more"), (-1, "One set less")] {
            let mut other = planned.clone();
            if let Some(sets) = other.plan.sets.get_mut(kind)
                && let Some(count) = sets.count.checked_add_signed(more)
            {
                sets.count = count;
                let of = if planned.set_names.len() > 1 { format!(" of {name}") } else { String::new() };
                row(format!("{words}{of}"), &other);
            }
        }
    }
    for (more, words) in [(1, "One charger more"), (-1, "One charger less")] {
        let mut other = planned.clone();
        if let Some(count) = other.plan.chargers.checked_add_signed(more) {
            other.plan.chargers = count;
            row(words.to_owned(), &other);
        }
    }
    rows
}
