//! Settings: units, files, offline state, version.

use std::collections::HashMap;
use std::sync::Arc;

use leptos::prelude::*;
use liftmargin_document::model::Bundle;
use liftmargin_document::open;

use super::listing::fault_view;
use super::take::{FromFile, needs_choice};
use crate::live::{act, live, live_while, text};
use crate::parts::{FileButton, UnitPicker};
use crate::platform::{file, offline};
use crate::store::{Coming, Offline, Store, demo_bundle};

/// Writes all data to a file.
///
/// # Errors
/// Words on why there is none.
pub fn save_backup(store: Store) -> Result<String, String> {
    let text =
        store.bundle.with_untracked(open::save).map_err(|fault| format!("No file was made: {fault}."))?;
    if file::save_text("liftmargin.json", "application/json", &text) {
        store.exported();
        Ok("Handed to the browser as liftmargin.json.".to_owned())
    } else {
        Err("The browser took no file.".to_owned())
    }
}

/// The screen.
#[component]
pub fn SettingsScreen() -> impl IntoView {
    view! {
        <main data-screen="settings">
            <h1>"Settings"</h1>
            <UnitChoices />
            <Files />
            <Version />
        </main>
    }
}

#[component]
fn UnitChoices() -> impl IntoView {
    let store = Store::here();
    view! {
        <section>
            <h2>"Units"</h2>
            <UnitPicker units=store.units on_change=Callback::new(move |units| store.set_units(units)) />
        </section>
    }
}

#[component]
fn Files() -> impl IntoView {
    let store = Store::here();
    store.read_late();
    let words = RwSignal::new(None::<Result<String, String>>);
    let coming = RwSignal::new(None::<Coming>);
    let import = file::chosen(move |opened| {
        words.set(None);
        store.once_all_read(move || match look_at(opened) {
            // Nothing to choose: nothing of the crew's own is touched, and one step takes it back.
            Ok(news) if !needs_choice(store, &news.opened.bundle) => words.set(Some(Ok(taken(store, &news)))),
            Ok(news) => coming.set(Some(news)),
            Err(fault) => words.set(Some(Err(fault))),
        });
    });
    let over = Callback::new(move |done: Option<String>| {
        coming.set(None);
        words.set(Some(Ok(done.unwrap_or_else(|| "Left: your data is unchanged".to_owned()) + ".")));
    });
    let outcome = move |words| match words {
        Ok(words) => view! { <p role="status">{words}</p> }.into_any(),
        Err(words) => fault_view(words),
    };
    view! {
        <section>
            <h2>"Your data"</h2>
            <p>"Everything stays in this browser. Export a file to keep a copy or to hand it to another device."</p>
            <p class="row">
                <button type="button" on:click=act(move || store.once_all_read(move || words.set(Some(save_backup(store)))))>"Export all to a file"</button>
            </p>
            <p class="row"><FileButton label="Import a file" accept=".json,application/json" on_file=import /></p>
            {live(move || words.get().map(outcome))}
            <FromFile coming over />
            <p class="row">
                <button type="button" on:click=act(move || store.once_all_read(move || store.replace_all("Started empty", Bundle::new())))>
                    "Start empty"
                </button>
                <button type="button" on:click=act(move || store.once_all_read(move || store.replace_all("Back to the invented demo", demo_bundle())))>
                    "Back to the demo"
                </button>
            </p>
            <UndoButton />
        </section>
    }
}

fn look_at(opened: Option<file::OpenedFile>) -> Result<Coming, String> {
    let opened = opened.ok_or("The file could not be read from the device. Your data is unchanged.")?;
    match open(&opened.text) {
        Ok(read) => Ok(Coming { from: opened.name, opened: Arc::new(read) }),
        Err(fault) => {
            Err(format!("{} was not taken in, your data is unchanged. Reason: {fault}.", opened.name))
        }
    }
}

fn taken(store: Store, coming: &Coming) -> String {
    let words = store.take_in_chosen(coming, &HashMap::new());
    let unknown = coming.opened.unknown.join(", ");
    let unknown = if unknown.is_empty() {
        String::new()
    } else {
        format!(" Not understood here, kept as it is: {unknown}.")
    };
    let broken = match coming.opened.broken.len() {
        0 => String::new(),
        count => format!(" {count} could not be read and stand in the note above."),
    };
    format!("{}: {words}.{unknown}{broken}", coming.from)
}

/// The last change, taken back.
#[component]
pub fn UndoButton() -> impl IntoView {
    let store = Store::here();
    let button = move |words: String| {
        view! {
            <p class="row">
                <button type="button" on:click=act(move || store.undo())>{format!("Undo: {words}")}</button>
            </p>
        }
    };
    live(move || store.undo_words.get().map(button))
}

const fn offline_words(ready: bool) -> &'static str {
    if ready { "✓ Ready for offline" } else { "Not kept for offline use yet: stay online for a moment" }
}

#[component]
fn Version() -> impl IntoView {
    let state = Offline::here();
    let store = Store::here();
    let reload = move || {
        store.flush_then(offline::apply_update);
    };
    let waiting = move || {
        view! { <p class="row"><button type="button" on:click=act(reload)>"New version ready: reload now"</button></p> }
    };
    view! {
        <section>
            <h2>"This app"</h2>
            <p data-figure="offline">{text(move || offline_words(state.ready.get()).to_owned())}</p>
            {live_while(move || state.update_waiting.get(), waiting)}
            <p>"Liftmargin " {env!("CARGO_PKG_VERSION")}</p>
            <p><a href="third-party.txt" target="_blank" rel="noopener">"What it is built from, and licences"</a></p>
        </section>
    }
}
