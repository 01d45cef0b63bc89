//! The log as files: out as CSV and JSON, in as JSON.

use std::collections::HashMap;
use std::sync::Arc;

use leptos::prelude::*;
use liftmargin_document::log::{LogFilter, as_csv, as_file, relearn};
use liftmargin_document::model::Bundle;
use liftmargin_document::open;
use liftmargin_document::record::List;

use super::super::listing::fault_view;
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
        let text =
            store.bundle.with_untracked(|bundle| filter.with_untracked(|filter| as_file(bundle, filter)));
        words.set(Some(
            text.map_err(|fault| fault.to_string())
                .and_then(|text| saved("flights.json", "application/json", &text)),
        ));
    });
    let take = file::chosen(move |opened| words.set(Some(take_in(store, opened))));
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
            <p class="row"><FileButton label="Import flights (JSON)" accept=".json,application/json" on_file=take /></p>
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

fn take_in(store: Store, opened: Option<file::OpenedFile>) -> Result<String, String> {
    let opened = opened.ok_or("The file could not be read from the device. Your log is unchanged.")?;
    let read = open(&opened.text).map_err(|fault| format!("{} was not taken in: {fault}.", opened.name))?;
    let coming = Coming { from: opened.name, opened: Arc::new(read) };
    let words = store.take_in_chosen(&coming, &HashMap::new());
    store.edit_alone("the import", Box::new(learned_anew));
    Ok(format!("{}: {words}.", coming.from))
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
