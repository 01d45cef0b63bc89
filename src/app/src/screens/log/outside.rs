//! The log as files: out and in as CSV and JSON, what comes in shown first.

use std::sync::Arc;

use leptos::prelude::*;
use liftmargin_document::log::{LogFilter, as_csv, as_file, from_csv, relearn};
use liftmargin_document::model::Bundle;
use liftmargin_document::open;
use liftmargin_document::record::List;

use super::super::listing::fault_view;
use super::super::take::comes;
use crate::live::{act, live};
use crate::parts::FileButton;
use crate::platform::{clock, file};
use crate::store::{Coming, Store};

/// The part of the screen.
pub fn outside(store: Store, filter: RwSignal<LogFilter>) -> AnyView {
    let words = RwSignal::new(None::<Result<String, String>>);
    let csv = act(move || {
        let text =
            store.bundle.with_untracked(|bundle| filter.with_untracked(|filter| as_csv(bundle, filter)));
        words.set(Some(saved("flights.csv", "text/csv", &text)));
    });
    let json = act(move || {
        store.once_all_read(move || {
            let text =
                store.bundle.with_untracked(|bundle| filter.with_untracked(|filter| as_file(bundle, filter)));
            words.set(Some(
                text.map_err(|fault| fault.to_string())
                    .and_then(|text| saved("flights.json", "application/json", &text)),
            ));
        });
    });
    let coming = RwSignal::new(None::<Coming>);
    let refused = RwSignal::new(Vec::<String>::new());
    let take = file::chosen(move |opened| {
        words.set(None);
        refused.set(Vec::new());
        store.once_all_read(move || match look_at(store, opened) {
            Ok((news, not)) => {
                refused.set(not);
                coming.set(Some(news));
            }
            Err(fault) => words.set(Some(Err(fault))),
        });
    });
    let over = Callback::new(move |done: Option<String>| {
        coming.set(None);
        if done.is_some() {
            store.edit_alone("the import", Box::new(learned_anew));
        }
        words.set(Some(Ok(done.unwrap_or_else(|| "Left: your log is unchanged".to_owned()) + ".")));
    });
    let outcome = |words| match words {
        Ok(words) => view! { <p role="status">{words}</p> }.into_any(),
        Err(words) => fault_view(words),
    };
    view! {
        <section>
            <h2>"Out and in"</h2>
            <p class="row">
                <button type="button" on:click=csv>"Export as CSV"</button>
                <button type="button" on:click=json>"Export as JSON"</button>
            </p>
            <p class="row"><FileButton label="Import flights (JSON or CSV)" accept=".json,application/json,text/csv" on_file=take /></p>
            {live(move || refused_rows(&refused.get()))}
            {live(move || coming.get().map(|news| comes(news, over)))}
            {live(move || words.get().map(outcome))}
        </section>
    }
    .into_any()
}

fn saved(name: &str, mime: &str, text: &str) -> Result<String, String> {
    if file::save_text(name, mime, text) {
        Ok(format!("Handed to the browser as {name}."))
    } else {
        Err("The browser took no file.".to_owned())
    }
}

/// What a file brings, and the rows of it that are no flight.
fn look_at(store: Store, opened: Option<file::OpenedFile>) -> Result<(Coming, Vec<String>), String> {
    let file = opened.ok_or("The file could not be read from the device. Your log is unchanged.")?;
    let not_taken = |why: String| format!("{} was not taken in: {why}", file.name);
    let is_json = file.text.trim_start_matches('\u{feff}').trim_start().starts_with('{');
    let (read, refused) = if is_json {
        (open(&file.text).map_err(|fault| not_taken(format!("{fault}.")))?, Vec::new())
    } else {
        let table = store.bundle.with_untracked(|bundle| from_csv(&file.text, bundle)).map_err(not_taken)?;
        (table.opened, table.refused)
    };
    Ok((Coming { from: file.name, opened: Arc::new(read) }, refused))
}

fn refused_rows(rows: &[String]) -> Option<AnyView> {
    let lines: Vec<AnyView> =
        rows.iter().take(20).map(|words| view! { <li>{words.clone()}</li> }.into_any()).collect();
    let count = rows.len();
    (count > 0).then(|| {
        view! { <p class="fault" role="status">{format!("{count} rows are no flight and stay out:")}</p> <ul class="fault">{lines}</ul> }.into_any()
    })
}

fn learned_anew(bundle: &mut Bundle) {
    for (id, _) in List::Airframes.names(bundle) {
        if bundle.flights.iter().any(|flight| flight.airframe == id)
            && let Ok(learned) = relearn(bundle, &id, clock::now_ms())
        {
            *bundle = learned;
        }
    }
}
