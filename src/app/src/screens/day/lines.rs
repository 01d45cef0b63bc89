//! What is entered for a day: counts by touch, flights line by line, times, chargers, supply.

use leptos::prelude::*;
use liftmargin_document::ground::{DayKind, kinds, set_count};
use liftmargin_document::model::numbers::{DAY_CHARGERS, DAY_PAUSES, DAY_SUPPLY, WANTED_TIME};
use liftmargin_document::model::{Bundle, DayPlan, SupplyKind, WantedFlight};
use liftmargin_document::record::{List, Record};

use super::super::entry::{choice, element_id, entries, keys, number};
use super::super::listing::choices_of;
use crate::live::{act, live, memo, text};
use crate::parts::{ChoiceField, TextField};
use crate::store::Store;

/// Changes the day with this id.
fn edit(id: &str, group: &str, words: &str, change: impl FnOnce(&mut DayPlan) + 'static) {
    let store = Store::here();
    let own = id.to_owned();
    let change = move |bundle: &mut Bundle| {
        if let Some(day) = DayPlan::find_mut(bundle, &own) {
            change(day);
        }
    };
    store.edit(&format!("day_plans {id} {group}"), words, Box::new(change));
}

/// Something of the day with this id.
fn read<T: Default>(id: &str, read: impl FnOnce(&DayPlan) -> T) -> T {
    Store::here()
        .bundle
        .with(|bundle| DayPlan::find(bundle, id).map(|(_, day)| read(day)))
        .unwrap_or_default()
}

/// A count with a button on either side.
fn stepper(name: String, value: Memo<u32>, put: Callback<u32>) -> AnyView {
    let (less, more) = (format!("{name}: one less"), format!("{name}: one more"));
    view! {
        <div class="stepper">
            <span class="stepper-name">{name}</span>
            <button type="button" aria-label=less on:click=act(move || put.run(value.get_untracked().saturating_sub(1)))>"−"</button>
            <output class="stepper-value">{text(move || value.get().to_string())}</output>
            <button type="button" aria-label=more on:click=act(move || put.run(value.get_untracked() + 1))>"+"</button>
        </div>
    }
    .into_any()
}

/// Sets of each kind, and chargers.
pub fn counters(id: &str) -> AnyView {
    let store = Store::here();
    let own = id.to_owned();
    let kinds = memo(move || {
        store
            .bundle
            .with(|bundle| DayPlan::find(bundle, &own).map(|(_, day)| kinds(bundle, day)).unwrap_or_default())
    });
    let names =
        memo(move || kinds.with(|kinds| kinds.iter().map(|kind| kind.name.clone()).collect::<Vec<_>>()));
    let own = id.to_owned();
    let of_kinds = move || {
        let steppers = names.get().into_iter().enumerate().map(|(index, name)| {
            let id = own.clone();
            let value = memo(move || kinds.with(|kinds| kinds.get(index).map_or(0, |kind| kind.count)));
            let put = Callback::new(move |count: u32| {
                let Some(kind) = kinds.with_untracked(|kinds| kinds.get(index).cloned()) else { return };
                put_sets(&id, kind, count);
            });
            stepper(format!("Sets: {name}"), value, put)
        });
        steppers.collect::<Vec<AnyView>>()
    };
    let own = id.to_owned();
    let chargers = memo(move || read(&own, |day| day.chargers));
    let own = id.to_owned();
    let put = Callback::new(move |count: u32| {
        edit(&own, "chargers", "the chargers", move |day| day.chargers = count);
    });
    view! {
        <section class="steppers no-print">
            {live(of_kinds)}
            {stepper("Chargers".to_owned(), chargers, put)}
        </section>
    }
    .into_any()
}

fn put_sets(id: &str, kind: DayKind, count: u32) {
    let own = id.to_owned();
    let change = move |bundle: &mut Bundle| set_count(bundle, &own, &kind, count);
    Store::here().edit(&format!("day_plans {id} sets"), "the pack sets", Box::new(change));
}

/// The flights as wanted, in their order.
pub fn flight_lines(id: &str) -> AnyView {
    let own = id.to_owned();
    let count = memo(move || read(&own, |day| day.flights.len()));
    let own = id.to_owned();
    let lines = move || (0..count.get()).map(|line| flight_line(&own, line)).collect::<Vec<AnyView>>();
    let own = id.to_owned();
    let add = act(move || {
        let open = Store::here().open.get_untracked();
        edit(&own, "lines", "the flights", move |day| {
            let setup = day.flights.last().map_or(open, |line| line.setup.clone());
            day.flights.push(WantedFlight { setup, count: 1, ..WantedFlight::default() });
        });
    });
    view! {
        <ol class="strings">{live(lines)}</ol>
        <p class="row no-print"><button type="button" on:click=add>"Add flights"</button></p>
    }
    .into_any()
}

fn flight_line(id: &str, line: usize) -> AnyView {
    let store = Store::here();
    let of = move |id: &str| {
        let own = id.to_owned();
        move |read_line: fn(&WantedFlight) -> String| {
            read(&own, |day| day.flights.get(line).map(read_line).unwrap_or_default())
        }
    };
    let (setup, earliest) = (of(id), of(id));
    let put = |id: &str, group: &'static str, change: fn(&mut WantedFlight, String)| {
        let own = id.to_owned();
        Callback::new(move |value: String| {
            edit(&own, &format!("{group} {line}"), "the flights", move |day| {
                if let Some(flight) = day.flights.get_mut(line) {
                    change(flight, value);
                }
            });
        })
    };
    let own = id.to_owned();
    let count = memo(move || read(&own, |day| day.flights.get(line).map_or(0, |flight| flight.count)));
    let own = id.to_owned();
    let put_count = Callback::new(move |count: u32| {
        edit(&own, &format!("count {line}"), "the flights", move |day| {
            if let Some(flight) = day.flights.get_mut(line) {
                flight.count = count.clamp(1, 100);
            }
        });
    });
    let own = id.to_owned();
    let minutes =
        memo(move || read(&own, |day| day.flights.get(line).and_then(|flight| flight.flight_time_min)));
    let own = id.to_owned();
    let put_minutes = Callback::new(move |value: Option<f64>| {
        edit(&own, &format!("minutes {line}"), "the flights", move |day| {
            if let Some(flight) = day.flights.get_mut(line) {
                WANTED_TIME.set(flight, value);
            }
        });
    });
    let own = id.to_owned();
    let remove = act(move || {
        edit(&own, "lines", "the flights", move |day| {
            if line < day.flights.len() {
                day.flights.remove(line);
            }
        });
    });
    let options = move || choices_of(store, List::Setups);
    let element = element_id("day_plans", id, &format!("flights[{line}].flight_time_min"));
    view! {
        <li class="string day-line">
            <ChoiceField label=format!("Flights {}", line + 1) options=Box::new(options)
                value=text(move || setup(|flight| flight.setup.clone())) on_change=put(id, "setup", |flight, setup| flight.setup = setup) />
            {stepper(format!("How many, line {}", line + 1), count, put_count)}
            <TextField label="Not before (08:30)" value=text(move || earliest(|flight| flight.earliest.clone()))
                on_change=put(id, "earliest", |flight, earliest| flight.earliest = earliest) />
            {number(element, &WANTED_TIME.number, minutes, put_minutes)}
            <p class="row no-print"><button type="button" on:click=remove>{format!("Remove line {}", line + 1)}</button></p>
        </li>
    }
    .into_any()
}

/// Start, wrap, date, pauses, chargers, supply.
pub fn times_and_numbers(id: &str) -> AnyView {
    let word = |label: &'static str, get: fn(&DayPlan) -> &String, place: fn(&mut DayPlan) -> &mut String| {
        let own = id.to_owned();
        let value = text(move || read(&own, |day| get(day).clone()));
        let own = id.to_owned();
        let put = Callback::new(move |value: String| {
            edit(&own, label, "the times", move |day| *place(day) = value);
        });
        view! { <TextField label value on_change=put /> }
    };
    view! {
        <section>
            <h2>"Times"</h2>
            <div class="entries">
                {word("Start (08:00)", |day| &day.start, |day| &mut day.start)}
                {word("Wrap (18:00)", |day| &day.wrap, |day| &mut day.wrap)}
                {word("Date (2026-04-30)", |day| &day.date, |day| &mut day.date)}
                {entries(id, DAY_PAUSES)}
            </div>
        </section>
        <section>
            <h2>"Chargers and supply"</h2>
            {choice(id, &DAY_SUPPLY, "Supply", keys(SupplyKind::KEYS))}
            <div class="entries">{entries(id, DAY_CHARGERS)}</div>
            <p class="caution">"Do not charge unattended, nor packs that are hot, cold, swollen or damaged. The makers of packs and chargers have the last word."</p>
        </section>
    }
    .into_any()
}
