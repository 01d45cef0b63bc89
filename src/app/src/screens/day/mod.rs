//! Day: flights, pack sets, chargers, supply; when what is ready, and what there is too little of.

mod lines;
mod timeline;

use leptos::prelude::*;
use liftmargin_core::day::DaySchedule;
use liftmargin_document::edit::new_day;
use liftmargin_document::error::DocumentError;
use liftmargin_document::ground::{
    DayReport, PlannedDay, SetupFlight, calendar, clock, day_lanes, planned, setup_flight,
};
use liftmargin_document::model::{Bundle, DayPlan};
use liftmargin_document::record::{List, Record};

use super::listing::{choices_of, fault_view, name_field, thing_buttons};
use super::problem::fault_words;
use crate::live::{act, live, live_for, live_while, memo, text};
use crate::parts::{ChoiceField, EmptyState, Table};
use crate::platform::{clock as wall, file, page};
use crate::store::Store;
use lines::{counters, flight_lines, times_and_numbers};
use timeline::timeline;

/// A day that was scheduled, or why not.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Worked {
    /// With its schedule.
    Day(Box<(PlannedDay, DaySchedule)>),
    /// In words.
    Fault(String),
}

/// The screen.
#[component]
pub fn DayScreen() -> impl IntoView {
    let store = Store::here();
    let chosen = RwSignal::new(String::new());
    let day = memo(move || {
        let wanted = chosen.get();
        store.bundle.with(|bundle| {
            let known = DayPlan::find(bundle, &wanted).map(|(_, day)| day.id.clone());
            known.or_else(|| List::DayPlans.id_at(bundle, 0)).unwrap_or_default()
        })
    });
    let new = act(move || {
        let name = format!("Day {}", store.bundle.with_untracked(|bundle| bundle.day_plans.len() + 1));
        let (bundle, _) = store.bundle.with_untracked(|bundle| new_day(bundle, &name));
        let fresh = bundle.day_plans.last().cloned().unwrap_or_default();
        chosen.set(store.add(fresh, "day"));
    });
    let options = move || choices_of(store, List::DayPlans);
    let is_there = move || !day.with(String::is_empty);
    let pick = move || {
        let choose = Callback::new(move |id: String| chosen.set(id));
        view! { <ChoiceField label="Day" options=Box::new(options) value=text(move || day.get()) on_change=choose /> }
    };
    let none = || {
        view! {
            <EmptyState title="No day yet">
                <p>"Name the flights of a day, its pack sets and chargers: it says when each flight can lift off, and whether the day holds them all."</p>
            </EmptyState>
        }
    };
    view! {
        <main data-screen="day">
            <h1>"Day"</h1>
            {live_while(move || !is_there(), none)}
            {live_for(move || day.get(), day_view)}
            <section class="no-print">
                {live_while(is_there, pick)}
                <p class="row"><button type="button" on:click=new>"New day"</button></p>
            </section>
        </main>
    }
}

/// What the setups of a day take, worked out again only when something else than days changes.
fn flown(id: &str) -> Memo<Vec<(String, Result<SetupFlight, DocumentError>)>> {
    let store = Store::here();
    let basis = memo(move || store.bundle.with(Bundle::equipment));
    let own = id.to_owned();
    let setups = memo(move || {
        store.bundle.with(|bundle| {
            let lines =
                DayPlan::find(bundle, &own).map(|(_, day)| day.flights.as_slice()).unwrap_or_default();
            let mut ids: Vec<String> = lines.iter().map(|line| line.setup.clone()).collect();
            ids.sort();
            ids.dedup();
            ids
        })
    });
    memo(move || {
        let work = |bundle: &Bundle| {
            setups.get().into_iter().map(|id| (id.clone(), setup_flight(bundle, &id))).collect::<Vec<_>>()
        };
        basis.with(work)
    })
}

fn day_view(id: String) -> AnyView {
    let store = Store::here();
    let flown = flown(&id);
    let own = id.clone();
    let worked = memo(move || {
        let units = store.units.get();
        let of = |setup: &str| {
            flown.with(|known| match known.iter().find(|(own, _)| own == setup) {
                Some((_, found)) => found.clone(),
                None => {
                    Err(DocumentError::UnknownReference { path: "setup".to_owned(), id: setup.to_owned() })
                }
            })
        };
        store.bundle.with(|bundle| match planned(bundle, &own, &mut { of }) {
            Err(fault) => Worked::Fault(fault_words(&fault, units)),
            Ok(planned) => match planned.scheduled() {
                Err(refusal) => Worked::Fault(liftmargin_document::words::refusal(&refusal, units)),
                Ok(day) => Worked::Day(Box::new((planned, day))),
            },
        })
    });
    let (own, paper) = (id.clone(), id.clone());
    view! {
        {live(move || printed_head(&paper))}
        {live(move || worked.with(answer))}
        {timeline(worked)}
        {counters(&id)}
        <div class="side">
            {live(move || worked.with(what_ifs))}
            {live(move || worked.with(all_flights))}
            {exports(own, worked)}
        </div>
        <div class="side no-print">
            <section>
                <h2>"Flights"</h2>
                {flight_lines(&id)}
            </section>
            {times_and_numbers(&id)}
        </div>
        <section class="no-print">
            {name_field(List::DayPlans, &id, "Name of the day")}
            {thing_buttons(List::DayPlans, &id)}
        </section>
    }
    .into_any()
}

/// On paper: which day, and what it counts with.
fn printed_head(id: &str) -> Option<AnyView> {
    let day = Store::here().bundle.with(|bundle| DayPlan::find(bundle, id).map(|(_, day)| day.clone()))?;
    let named = [day.name.as_str(), day.date.as_str()].into_iter().filter(|words| !words.is_empty());
    let named = named.collect::<Vec<_>>().join(", ");
    Some(
        view! { <p class="print-only wide"><strong>{named}</strong>" "{day_lanes::plan_words(&day)}</p> }
            .into_any(),
    )
}

/// Flights done, the first wait, fewest sets and chargers, energy.
fn answer(worked: &Worked) -> AnyView {
    let (planned, day) = match worked {
        Worked::Fault(words) => return fault_view(words.clone()),
        Worked::Day(worked) => (&worked.0, &worked.1),
    };
    let report: DayReport = planned.report(day);
    let wrap = clock::shown(planned.plan.wrap.value);
    let stall = report
        .first_stall
        .as_ref()
        .map_or_else(|| "Nobody waits for packs.".to_owned(), |stall| stall.words.clone());
    let is_one = report.fewest_sets.len() == 1;
    let sets = report.fewest_sets.iter().map(|kind| {
        let name = if is_one { String::new() } else { format!(" ({})", kind.set) };
        if kind.fewest == 1 { format!("1 set{name}") } else { format!("{} sets{name}", kind.fewest) }
    });
    let sets: Vec<String> = sets.collect();
    let chargers = match report.fewest_chargers {
        Some(1) => "1 charger is".to_owned(),
        Some(count) => format!("{count} chargers are"),
        None => "no number of chargers is".to_owned(),
    };
    let enough = format!(
        "For no waiting: {} with these chargers; {chargers} enough with these sets.",
        if sets.is_empty() { "no sets".to_owned() } else { sets.join(", ") }
    );
    let fuel = report
        .fuel_l
        .map(|litres| format!(", {:.1} l of fuel", (litres * 10.0).ceil() / 10.0))
        .unwrap_or_default();
    let charged = report
        .all_charged
        .as_ref()
        .map(|at| format!("; all charged at {}", at.get(..5).unwrap_or(at)))
        .unwrap_or_default();
    let energy = format!(
        "{:.1} kWh from the supply, {:.0} W at most{fuel}{charged}",
        (report.energy_wh / 100.0).ceil() / 10.0,
        report.greatest_power_w.ceil()
    );
    view! {
        <section class="answer answer-first">
            <h2>{format!("Flights by {wrap}")}</h2>
            <p class="figure" data-figure="flights-done">
                {format!("{} of {}", report.flights_done, report.flights_wanted)}
            </p>
            <p data-figure="first-stall" role="status">{stall}</p>
            <p class="quiet" data-figure="fewest">{enough}</p>
            <p class="quiet" data-figure="energy">{energy}</p>
        </section>
    }
    .into_any()
}

fn what_ifs(worked: &Worked) -> Option<AnyView> {
    let Worked::Day(worked) = worked else { return None };
    let rows = day_lanes::what_ifs(&worked.0);
    let head = ["What if", "Flights", "Waiting"].map(str::to_owned).to_vec();
    let table = view! { <Table caption="One more or less".to_owned() head rows /> };
    Some(view! { <section class="day-what-if">{table}</section> }.into_any())
}

/// Each flight with its packs; all that happens, folded.
fn all_flights(worked: &Worked) -> Option<AnyView> {
    let Worked::Day(worked) = worked else { return None };
    let rows = day_lanes::flight_rows(&worked.0, &worked.1);
    let head = ["Flight", "In the air", "Packs", "Charged again"].map(str::to_owned).to_vec();
    let flights = view! { <Table caption="Flights and their packs".to_owned() head rows /> };
    let rows = day_lanes::event_rows(&worked.0, &worked.1);
    let head = ["Time", "What", "Set", "Flight"].map(str::to_owned).to_vec();
    let all = view! { <Table caption="All that happens".to_owned() head rows /> };
    Some(
        view! {
            <section data-figure="flights">{flights}</section>
            <details class="more no-print"><summary>"The day in rows"</summary>{all}</details>
            <p class="print-only caution">
                "Estimates from what was entered. Lithium packs: never charge unattended, nor packs that are hot, cold, swollen or damaged. "
                <strong>"The pilot in command decides, on the day, at the place."</strong>
            </p>
        }
        .into_any(),
    )
}

/// Print, CSV, calendar.
fn exports(id: String, worked: Memo<Worked>) -> AnyView {
    let store = Store::here();
    let said = RwSignal::new(String::new());
    let report = move || {
        worked.with_untracked(|worked| match worked {
            Worked::Day(worked) => Some(worked.0.report(&worked.1)),
            Worked::Fault(_) => None,
        })
    };
    let hand = move |name: &str, mime: &str, text: Option<String>| {
        let is_out = text.is_some_and(|text| file::save_text(name, mime, &text));
        said.set(if is_out {
            format!("Handed to the browser as {name}.")
        } else {
            "No file was made: is the date there?".to_owned()
        });
    };
    let csv = act(move || {
        let units = store.units.get_untracked();
        hand("day.csv", "text/csv;charset=utf-8", report().map(|report| calendar::csv(&report, units)));
    });
    let ics = act(move || {
        let (today, stamp) = calendar::of_clock(wall::now_ms());
        let day =
            store.bundle.with_untracked(|bundle| DayPlan::find(bundle, &id).map(|(_, day)| day.clone()));
        let day = day.unwrap_or_default();
        let date = if day.date.is_empty() { today } else { day.date };
        hand(
            "day.ics",
            "text/calendar",
            report().and_then(|report| calendar::calendar(&report, &day.name, &date, &stamp)),
        );
    });
    view! {
        <section class="no-print">
            <h2>"Take it along"</h2>
            <p class="row">
                <button type="button" on:click=act(page::print)>"Print"</button>
                <button type="button" on:click=csv>"As CSV"</button>
                <button type="button" on:click=ics>"To the calendar"</button>
            </p>
            <p role="status">{text(move || said.get())}</p>
        </section>
    }
    .into_any()
}
