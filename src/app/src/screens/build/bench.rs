//! The bench table of an airframe: what the fit makes of it, and opening another one.

use std::sync::Arc;

use leptos::prelude::*;
use liftmargin_document::bench_csv::{Columns, Sheet, inspect, read};
use liftmargin_document::model::numbers::BENCH_DENSITY;
use liftmargin_document::model::{Airframe, Bench, Bundle};
use liftmargin_document::record::Record;
use liftmargin_document::words;
use liftmargin_document::workspace::bench_rows;

use super::super::entry::{element_id, entry};
use super::super::listing::fault_view;
use super::super::problem::fault_words;
use super::bench_columns::column_choices;
use super::bench_fit::fit_plot;
use crate::live::{act, flag, live, memo, typed};
use crate::parts::FileButton;
use crate::platform::file;
use crate::store::{Answer, Store};

/// Density where a table does not say: the standard day at sea level.
const STANDARD_DENSITY_KG_M3: f64 = 1.225;

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
fn put_table(store: Store, airframe: &str, words: &str, bench: Option<Bench>) {
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
        {entry(airframe, &BENCH_DENSITY)}
        {fit_plot(airframe)}
        <p class="row"><button type="button" on:click=remove>"Remove the table"</button></p>
    }
    .into_any()
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

/// A table that is looked at, before it is taken.
#[derive(Clone, PartialEq)]
struct Opened {
    name: String,
    sheet: Arc<Sheet>,
}

/// A table opened or pasted, before it is taken.
#[component]
fn OpenTable(airframe: String) -> impl IntoView {
    let opened = RwSignal::new(None::<Opened>);
    let columns = RwSignal::new(Columns::default());
    let look_at = move |name: String, text: &str| {
        let sheet = inspect(text);
        columns.set(sheet.guessed);
        opened.set(Some(Opened { name, sheet: Arc::new(sheet) }));
    };
    let from_file = file::chosen(move |file| match file {
        Some(file) => look_at(file.name, &file.text),
        None => look_at("The file".to_owned(), ""),
    });
    let paste = typed(move |text| {
        if !text.trim().is_empty() {
            look_at("Pasted table".to_owned(), &text);
        }
    });
    let take = move || opened.get().map(|table| take_table(&airframe, &table, columns, opened));
    view! {
        <p class="row"><FileButton label="Open a table (CSV)" accept=".csv,.tsv,.txt,text/csv" on_file=from_file /></p>
        <label class="paste">
            <span>"Or paste it here"</span>
            <textarea rows="3" spellcheck="false" on:input=paste></textarea>
        </label>
        {live(take)}
    }
}

/// Which columns, and taking the table.
fn take_table(
    airframe: &str,
    opened: &Opened,
    columns: RwSignal<Columns>,
    done: RwSignal<Option<Opened>>,
) -> AnyView {
    let store = Store::here();
    let Opened { name, sheet } = opened.clone();
    let rows = sheet.rows.len();
    let more = if sheet.rows_left_out > 0 {
        format!(", {} more left out", sheet.rows_left_out)
    } else {
        String::new()
    };
    let words = format!("{name}: {rows} rows{more}");
    let headers = sheet.headers.clone();
    let table = move || read(&sheet, &columns.get());
    let fault = {
        let table = table.clone();
        memo(move || table().err().map(|fault| words::sentence(&fault.to_string())))
    };
    let own = airframe.to_owned();
    let take = act(move || {
        let Ok(rows) = untrack(&table) else { return };
        let bench = Bench {
            name: name.clone(),
            air_density_kg_m3: STANDARD_DENSITY_KG_M3,
            rows: bench_rows(&rows),
            ..Bench::default()
        };
        put_table(store, &own, "the bench table", Some(bench));
        done.set(None);
    });
    view! {
        <section class="table-to-take">
            <p>{words}</p>
            {column_choices(headers, columns)}
            {live(move || fault.get().map(fault_view))}
            <p class="row">
                <button type="button" disabled=flag(move || fault.with(Option::is_some)) on:click=take>"Use this table"</button>
                <button type="button" on:click=act(move || done.set(None))>"Leave it"</button>
            </p>
        </section>
    }
    .into_any()
}
