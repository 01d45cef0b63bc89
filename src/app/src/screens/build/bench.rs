//! The bench table of an airframe: what the fit makes of it, and opening another one.

use leptos::prelude::*;
use liftmargin_document::fields::Entry;
use liftmargin_document::model::numbers::{BENCH_DENSITY, BENCH_ROTOR, ROTOR_DIAMETER};
use liftmargin_document::model::{Airframe, Bench, Bundle};
use liftmargin_document::record::Record;
use liftmargin_document::resolve::is_other_rotor;
use liftmargin_document::words;

use super::super::entry::{element_id, entry};
use super::super::listing::fault_view;
use super::super::problem::fault_words;
use super::bench_fit::fit_plot;
use super::bench_open::OpenTable;
use crate::live::{act, live, live_while, memo};
use crate::store::{Answer, Store};

/// The bench table of the airframe.
#[component]
pub fn BenchTable(airframe: String) -> impl IntoView {
    let store = Store::here();
    let element = element_id("airframes", &airframe, "propulsion.bench");
    let own = airframe.clone();
    let there = memo(move || store.bundle.with(|bundle| table_words(bundle, &own)));
    let own = airframe.clone();
    let table = move || there.get().map(|words| table_view(store, &own, words));
    view! {
        <section id=element>
            <h3>"Bench table"</h3>
            {live(move || learned(store))}
            {live(table)}
            <OpenTable airframe />
        </section>
    }
}

/// Changes the bench table of an airframe.
pub(super) fn put_table(store: Store, airframe: &str, words: &str, bench: Option<Bench>) {
    let id = airframe.to_owned();
    let put = move |bundle: &mut Bundle| {
        if let Some(airframe) = Airframe::find_mut(bundle, &id) {
            airframe.propulsion.bench = bench;
        }
    };
    store.edit_alone(words, Box::new(put));
}

fn table_words(bundle: &Bundle, airframe: &str) -> Option<String> {
    let (_, airframe) = Airframe::find(bundle, airframe)?;
    let bench = airframe.propulsion.bench.as_ref()?;
    Some(format!("{}: {} rows", bench.name, bench.rows.len()))
}

fn table_view(store: Store, airframe: &str, words: String) -> AnyView {
    let own = airframe.to_owned();
    let remove = act(move || put_table(store, &own, "removing the bench table", None));
    view! {
        <p>{words}</p>
        {other_rotor(store, airframe)}
        <div class="entries">{entry(airframe, &BENCH_DENSITY)}{entry(airframe, &BENCH_ROTOR)}</div>
        {fit_plot(airframe)}
        <p class="row"><button type="button" on:click=remove>"Detach the table"</button></p>
    }
    .into_any()
}

/// A table of another rotor: what to do with it.
fn other_rotor(store: Store, airframe: &str) -> AnyView {
    let own = airframe.to_owned();
    let differs = move || {
        store.bundle.with(|bundle| {
            let (measured, flown) = (BENCH_ROTOR.value(bundle, &own), ROTOR_DIAMETER.value(bundle, &own));
            measured.zip(flown).is_some_and(|(measured, flown)| is_other_rotor(measured, flown))
        })
    };
    let own = airframe.to_owned();
    live_while(differs, move || {
        let put = |from: &'static dyn Entry, to: &'static dyn Entry, words: &'static str| {
            let id = own.clone();
            act(move || {
                let id = id.clone();
                store.edit_alone(
                    words,
                    Box::new(move |bundle| {
                        let value = from.value(bundle, &id);
                        to.put(bundle, &id, value);
                    }),
                );
            })
        };
        view! {
            <section class="caution" role="status" data-note="other-rotor">
                <p>"The table was measured with another rotor than this aircraft has: it counts with a wider doubt."</p>
                <p class="row">
                    <button type="button" on:click=put(&BENCH_ROTOR, &ROTOR_DIAMETER, "the rotor of the table")>
                        "Fly the rotor of the table"
                    </button>
                    <button type="button" on:click=put(&ROTOR_DIAMETER, &BENCH_ROTOR, "the rotor of the table")>
                        "It was measured with this rotor"
                    </button>
                </p>
            </section>
        }
    })
}

/// How well the propulsion is known.
fn learned(store: Store) -> Option<AnyView> {
    let units = store.units.get();
    Answer::here().airframe.with(|airframe| match airframe.as_ref()? {
        Ok(airframe) => {
            let words = words::evidence(&airframe.airframe.unit.evidence, units);
            Some(view! { <p data-figure="fit">{words}</p> }.into_any())
        }
        Err(fault) => Some(fault_view(fault_words(fault, units))),
    })
}
