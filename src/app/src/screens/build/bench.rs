//! The bench table of an airframe: what the fit makes of it, and opening another one.

use leptos::ev::Event;
use leptos::prelude::*;
use liftmargin_document::bench_csv::{Columns, Sheet, inspect, read};
use liftmargin_document::fields::BENCH_DENSITY;
use liftmargin_document::listed::Listed;
use liftmargin_document::measure::words;
use liftmargin_document::schema::{Airframe, Bench};
use liftmargin_document::workspace::bench_rows;

use super::super::entry::{element_id, entry};
use super::super::problem::fault_words;
use super::bench_columns::ColumnChoices;
use super::bench_fit::FitPlot;
use crate::doors::file;
use crate::parts::FileButton;
use crate::store::{Answer, Store};

/// Density where a table does not say: the standard day at sea level.
const STANDARD_DENSITY_KG_M3: f64 = 1.225;

/// The bench table of the airframe.
#[component]
pub fn BenchTable(airframe: String) -> impl IntoView {
    let store = Store::here();
    let own = airframe.clone();
    let there = Memo::new(move |_| {
        store.bundle.with(|bundle| {
            let (_, airframe) = Airframe::find(bundle, &own)?;
            airframe
                .propulsion
                .bench
                .as_ref()
                .map(|bench| format!("{}: {} rows", bench.name, bench.rows.len()))
        })
    });
    let element = element_id("airframes", &airframe, "propulsion.bench");
    let own = StoredValue::new(airframe);
    let remove = move |_| {
        store.edit_thing_alone::<Airframe>(&own.get_value(), "removing the bench table", |airframe| {
            airframe.propulsion.bench = None;
        });
    };
    view! {
        <section id=element>
            <h3>"Bench table"</h3>
            <Learned />
            {move || there.get().map(|words| view! {
                <p>{words}</p>
                {entry(&own.get_value(), &BENCH_DENSITY)}
                <FitPlot airframe=own.get_value() />
                <p class="row"><button type="button" on:click=remove>"Remove the table"</button></p>
            })}
            <OpenTable airframe=own.get_value() />
        </section>
    }
}

/// How well the propulsion is known.
#[component]
fn Learned() -> impl IntoView {
    let store = Store::here();
    let answer = Answer::here();
    move || match answer.airframe.get()? {
        Ok(airframe) => {
            let words = words::evidence(&airframe.airframe.unit.evidence, store.units.get());
            Some(view! { <p data-figure="fit">{words}</p> }.into_any())
        }
        Err(fault) => Some(
            view! { <p role="alert" class="fault">{fault_words(&fault, store.units.get())}</p> }.into_any(),
        ),
    }
}

/// A table opened or pasted, before it is taken.
#[component]
fn OpenTable(airframe: String) -> impl IntoView {
    let sheet = RwSignal::new(None::<(String, Sheet)>);
    let columns = RwSignal::new(Columns::default());
    let looked_at = move |name: String, text: &str| {
        let read = inspect(text);
        columns.set(read.guessed);
        sheet.set(Some((name, read)));
    };
    let opened = move |event: Event| {
        file::read_chosen(&event, move |opened| {
            let opened =
                opened.unwrap_or(file::OpenedFile { name: "The file".to_owned(), text: String::new() });
            looked_at(opened.name, &opened.text);
        });
    };
    let pasted = move |event: Event| {
        let text = event_target_value(&event);
        if !text.trim().is_empty() {
            looked_at("Pasted table".to_owned(), &text);
        }
    };
    view! {
        <p class="row"><FileButton label="Open a table (CSV)" accept=".csv,.tsv,.txt,text/csv" on_file=opened /></p>
        <label class="paste">
            <span>"Or paste it here"</span>
            <textarea rows="3" spellcheck="false" on:input=pasted></textarea>
        </label>
        {move || sheet.get().map(|(name, read)| view! {
            <TakeTable airframe=airframe.clone() name sheet=read columns done=Callback::new(move |()| sheet.set(None)) />
        })}
    }
}

/// Which columns, and taking the table.
#[component]
fn TakeTable(
    airframe: String,
    name: String,
    sheet: Sheet,
    columns: RwSignal<Columns>,
    done: Callback<()>,
) -> impl IntoView {
    let store = Store::here();
    let headers = sheet.headers.clone();
    let rows = sheet.rows.len();
    let left_out = sheet.rows_left_out;
    let sheet = StoredValue::new(sheet);
    let table = Memo::new(move |_| sheet.with_value(|sheet| read(sheet, &columns.get())));
    let shown_name = name.clone();
    let take = move |_| {
        let Ok(rows) = table.get_untracked() else { return };
        let bench =
            Bench { name: name.clone(), air_density_kg_m3: STANDARD_DENSITY_KG_M3, rows: bench_rows(&rows) };
        store.edit_thing_alone::<Airframe>(&airframe, "the bench table", |airframe| {
            airframe.propulsion.bench = Some(bench);
        });
        done.run(());
    };
    view! {
        <section class="table-to-take">
            <p>{shown_name} ": " {rows} " rows" {(left_out > 0).then(|| format!(", {left_out} more left out"))}</p>
            <ColumnChoices headers columns />
            {move || table.get().err().map(|fault| view! {
                <p role="alert" class="fault">{words::sentence(&fault.to_string())}</p>
            })}
            <p class="row">
                <button type="button" disabled=move || table.with(Result::is_err) on:click=take>"Use this table"</button>
                <button type="button" on:click=move |_| done.run(())>"Leave it"</button>
            </p>
        </section>
    }
}
