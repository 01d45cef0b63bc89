//! Packs: the register, what is fit, which go together, whether they may be joined.

mod cells;
mod csv_in_out;

use leptos::prelude::*;
use liftmargin_core::limits::State;
use liftmargin_document::ground::calendar;
use liftmargin_document::ground::cell_entry::next_label;
use liftmargin_document::ground::register::{self, PackRow};
use liftmargin_document::ground::setup_packs::{SetupMatch, fly_these, join_for, match_for};
use liftmargin_document::model::numbers::FITNESS;
use liftmargin_document::model::{Bundle, Pack};
use liftmargin_document::record::{List, Record};

use super::build::single_pack;
use super::entry::entries;
use super::listing::{fault_view, name_of};
use super::problem::fault_words;
use crate::live::{act, flag, live, live_each, live_while, memo, text};
use crate::parts::{EmptyState, SwitchRow, Table, TextField, state_mark};
use crate::platform::clock;
use crate::store::Store;
use cells::charging_table;
use csv_in_out::csv_in_out;

/// Today, for the age of packs.
fn today() -> String {
    calendar::of_clock(clock::now_ms()).0
}

/// The screen.
#[component]
pub fn PacksScreen() -> impl IntoView {
    let store = Store::here();
    let rows = memo(move || store.bundle.with(|bundle| register::rows(bundle, &today())));
    let ids = move || store.bundle.with(|bundle| bundle.packs.iter().map(|pack| pack.id.clone()).collect());
    let types =
        move || store.bundle.with(|bundle| bundle.pack_types.iter().map(|of| of.id.clone()).collect());
    view! {
        <main data-screen="packs">
            <h1>"Packs"</h1>
            <p class="only-print">{clock::today()}</p>
            <div class="side">
                {live(move || rows.with(|rows| fitness(rows)))}
                {charging_table()}
                {joining()}
                {matching()}
            </div>
            <div class="side">
            <section class="packs-list">
                <ul class="pack-list">{live(move || rows.with(|rows| rows.iter().map(fitness_row).collect::<Vec<AnyView>>()))}</ul>
                {live_while(move || rows.with(|rows| !rows.is_empty()), move || view! { <p class="quiet">{text(move || store.bundle.with(register::charger_words))}</p> })}
            </section>
            <section class="no-print">
                <h2>"The register"</h2>
                {live_each(ids, of_register)}
                {csv_in_out()}
            </section>
            <section class="no-print">
                <h2>"Limits of fitness"</h2>
                {live_each(types, limits)}
            </section>
            <aside class="caution">
                <h3>"Lithium packs"</h3>
                <p>
                    "Never connect strings of unequal voltage in parallel. No swollen, damaged or cold packs. Not charged unattended. By air: thresholds of 100 and 160 Wh as published in 49 CFR 175.10 and the ICAO and IATA provisions; packs by themselves as UN 3480. Carriers and authorities decide."
                </p>
            </aside>
            </div>
        </main>
    }
}

/// From where on packs of a type are to be watched, or not fit.
fn limits(id: String) -> AnyView {
    let store = Store::here();
    let own = id.clone();
    view! {
        <details class="more">
            <summary>{text(move || name_of(store, List::PackTypes, &own))}</summary>
            <div class="entries">{entries(&id, FITNESS)}</div>
        </details>
    }
    .into_any()
}

/// How many packs are fit, and each with its reasons.
fn fitness(rows: &[PackRow]) -> AnyView {
    if rows.is_empty() {
        return view! {
            <EmptyState title="No pack in the register yet">
                <p>"Begin with New pack below, or take in a table of packs. Each is then judged here: fit, to be watched, not fit."</p>
            </EmptyState>
        }
        .into_any();
    }
    let count = |state: State| rows.iter().filter(|row| row.state == Some(state)).count();
    let (fine, watch, no) = (count(State::Fine), count(State::Watch), count(State::No));
    view! {
        <section class="answer answer-first">
            <h2>"Fit to fly"</h2>
            <p class="figure" data-figure="fit">{format!("{} of {}", fine + watch, rows.len())}</p>
            <p class="quiet">{format!("{watch} to be watched, {no} not fit. Limits are common practice, no source, unless you set your own below.")}</p>
        </section>
    }
    .into_any()
}

fn fitness_row(row: &PackRow) -> AnyView {
    let small: Vec<&str> = [row.storage.as_str(), row.transport.as_str()]
        .into_iter()
        .filter(|words| !words.is_empty())
        .collect();
    view! {
        <li class="pack-row" data-state=row.state.map(State::key)>
            {row.state.map(state_mark)}
            <span class="pack-words">
                <strong>{row.name.clone()}</strong>
                " "
                {row.reasons.join(", ")}
                <small>{small.join(" · ")}</small>
            </span>
        </li>
    }
    .into_any()
}

/// A pack of the register with its words.
fn of_register(id: String) -> AnyView {
    let store = Store::here();
    let word = |label: &'static str, get: fn(&Pack) -> &String, place: fn(&mut Pack) -> &mut String| {
        let own = id.clone();
        let value = text(move || {
            store
                .bundle
                .with(|bundle| Pack::find(bundle, &own).map(|(_, pack)| get(pack).clone()))
                .unwrap_or_default()
        });
        let own = id.clone();
        let put =
            Callback::new(move |value: String| edit_pack(&own, label, move |pack| *place(pack) = value));
        view! { <TextField label value on_change=put /> }
    };
    let own = id.clone();
    let on = flag(move || {
        store.bundle.with(|bundle| Pack::find(bundle, &own).is_some_and(|(_, pack)| pack.retired))
    });
    let own = id.clone();
    let put =
        Callback::new(move |retired: bool| edit_pack(&own, "retired", move |pack| pack.retired = retired));
    let more = view! {
        {word("Bought (2026-04-30)", |pack| &pack.bought, |pack| &mut pack.bought)}
        {word("Remark", |pack| &pack.remark, |pack| &mut pack.remark)}
        <SwitchRow label=text(|| "Retired".to_owned()) on on_change=put sub=text(|| "No longer flown".to_owned()) />
    };
    single_pack(id.clone(), more.into_any())
}

/// Changes a pack.
fn edit_pack(id: &str, group: &str, change: impl FnOnce(&mut Pack) + 'static) {
    let own = id.to_owned();
    let change = move |bundle: &mut Bundle| {
        if let Some(pack) = Pack::find_mut(bundle, &own) {
            change(pack);
        }
    };
    Store::here().edit(&format!("packs {id} {group}"), "the pack", Box::new(change));
}

/// One more pack, labelled after the last one and of its type.
fn one_more(store: Store) -> String {
    let fresh = store.bundle.with_untracked(|bundle| {
        let last = bundle.packs.last().map(|pack| pack.pack_type.clone());
        let first = bundle.pack_types.first().map(|of| of.id.clone());
        Pack { name: next_label(bundle), pack_type: last.or(first).unwrap_or_default(), ..Pack::default() }
    });
    store.add(fresh, "pack")
}

/// Whether the open setup's strings may be joined.
fn joining() -> AnyView {
    let store = Store::here();
    let found = memo(move || {
        let (id, units) = (store.open.get(), store.units.get());
        store.bundle.with(|bundle| join_for(bundle, &id).map_err(|fault| fault_words(&fault, units)))
    });
    let shown = move || {
        found.with(|found| match found {
            Err(words) => fault_view(words.clone()),
            Ok(joined) => {
                let head = ["String", "At rest", "At first", "To match, charge"].map(str::to_owned).to_vec();
                view! {
                    <section class="verdict" data-state=joined.verdict.key() role="status">
                        {state_mark(joined.verdict)}
                        <p class="verdict-words" data-figure="join">{joined.words.clone()}</p>
                    </section>
                    <Table caption="Strings at the first moment".to_owned() head rows=joined.rows.clone() />
                    <p>{joined.series.join(" ")}</p>
                }
                .into_any()
            }
        })
    };
    let name =
        text(move || store.with_setup(|setup| format!("Before joining: {}", setup.name)).unwrap_or_default());
    view! { <section><h2>{name}</h2>{live(shown)}</section> }.into_any()
}

/// The open setup's packs out of the register.
fn matching() -> AnyView {
    let store = Store::here();
    let found = RwSignal::new(None::<Result<SetupMatch, String>>);
    let search = act(move || {
        let (id, units) = (store.open.get_untracked(), store.units.get_untracked());
        let best = store.bundle.with_untracked(|bundle| match_for(bundle, &id, &today()));
        found.set(Some(best.map_err(|fault| fault_words(&fault, units))));
    });
    let shown = move || {
        found.get().map(|found| match found {
            Err(words) => fault_view(words),
            Ok(best) => {
                let row = |(index, labels): (usize, &Vec<String>)| vec![format!("String {}", index + 1), labels.join(", ")];
                let rows = best.labels.iter().enumerate().map(row).collect();
                let strings = best.strings.clone();
                let fly = act(move || {
                    let (id, strings) = (store.open.get_untracked(), strings.clone());
                    store.edit_alone("the packs on board", Box::new(move |bundle| fly_these(bundle, &id, &strings)));
                });
                view! {
                    <p data-figure="gained" role="status">{best.gained.clone()}</p>
                    <Table caption="Packs that go together".to_owned() head=vec!["String".to_owned(), "Packs".to_owned()] rows />
                    <p class="row"><button type="button" on:click=fly>"Fly these packs"</button></p>
                }
                .into_any()
            }
        })
    };
    view! {
        <section class="packs-match">
            <h2>"Match packs"</h2>
            <p>"Out of the fit packs of the register, for the open setup: the most mAh to the reserve at its hover power."</p>
            <p class="row"><button type="button" on:click=search>"Match for this setup"</button></p>
            {live(shown)}
        </section>
    }
    .into_any()
}
