//! Notes above every screen: what must be seen before anything else.

use leptos::prelude::*;
use liftmargin_document::open::{BrokenRecord, broken_as_file};
use liftmargin_document::record::List;

use crate::live::{act, live, live_each, live_while};
use crate::platform::{file, offline};
use crate::screens::settings::save_backup;
use crate::store::{Offline, Saving, Store};

/// All notes that apply, most serious first.
#[component]
pub fn Notes() -> impl IntoView {
    let store = Store::here();
    let rescued = move || store.rescued.get().into_iter().map(|rescued| rescued.key).collect();
    view! {
        <aside class="notes" aria-label="Notes">
            {live_each(rescued, rescue_note)}
            {live(move || broken_note(store))}
            {live(move || saving_note(store))}
            <UpdateNote />
        </aside>
    }
}

fn rescue_note(key: String) -> AnyView {
    let store = Store::here();
    let saved = RwSignal::new(false);
    let rescued = store.rescued.with_untracked(|all| all.iter().find(|rescued| rescued.key == key).cloned());
    let Some(rescued) = rescued else { return ().into_any() };
    let text = rescued.text;
    let save = act(move || saved.set(file::save_text("liftmargin-rescued.json", "application/json", &text)));
    let why = rescued.reason.map(|reason| view! { <p>{format!("Reason: {reason}")}</p> });
    let letting_go = move || {
        let key = key.clone();
        view! {
            <button type="button" on:click=act(move || store.drop_rescued(&key))>
                "I have the file: remove it from this browser"
            </button>
        }
    };
    view! {
        <section class="note note-serious" role="alert" data-note="rescue">
            <h2>"Your saved data could not be read"</h2>
            <p>
                "It is set aside word for word and nothing has been written over it. Save it as a file before you go on; what you see now is the invented demo."
            </p>
            {why}
            <button type="button" on:click=save>"Save file"</button>
            {live_while(move || saved.get(), letting_go)}
        </section>
    }
    .into_any()
}

/// Records that could not be read, each with its reason; everything else is there.
fn broken_note(store: Store) -> Option<AnyView> {
    let broken = store.broken.get();
    if broken.is_empty() {
        return None;
    }
    let saved = RwSignal::new(false);
    let line = |record: &BrokenRecord| {
        let name = if record.name.is_empty() { &record.id } else { &record.name };
        let what = List::from_key(&record.list).map_or("record", List::one);
        view! { <li>{format!("{what} {name}: {}", record.words)}</li> }.into_any()
    };
    let lines: Vec<AnyView> = broken.iter().map(line).collect();
    let text = broken_as_file(&broken);
    let save = act(move || saved.set(file::save_text("liftmargin-rescued.json", "application/json", &text)));
    let letting_go = move || {
        view! {
            <button type="button" on:click=act(move || store.drop_broken())>
                "I have the file: remove them from this browser"
            </button>
        }
    };
    let note = view! {
        <section class="note note-serious" role="alert" data-note="rescue">
            <h2>"Some records could not be read"</h2>
            <p>"They are kept word for word; everything else is there."</p>
            <ul>{lines}</ul>
            <button type="button" on:click=save>"Save file"</button>
            {live_while(move || saved.get(), letting_go)}
        </section>
    };
    Some(note.into_any())
}

fn saving_note(store: Store) -> AnyView {
    let export = || act(move || drop(save_backup(store)));
    match store.saving.get() {
        Saving::Kept | Saving::Pending => ().into_any(),
        Saving::Failed(fault) => view! {
            <section class="note note-serious" role="alert" data-note="not-saved">
                <h2>"Your changes are not being kept"</h2>
                <p>{format!("Reason: {fault}. Export a file now, or they are lost when this page closes.")}</p>
                <button type="button" on:click=export()>"Export file"</button>
                <button type="button" on:click=act(move || store.flush())>"Try again"</button>
            </section>
        }
        .into_any(),
        Saving::OtherTab(_) => view! {
            <section class="note note-serious" role="alert" data-note="other-tab">
                <h2>"Another tab has changed the data"</h2>
                <p>"This tab has changes too. Which ones are to be kept? Export a file first if you need both."</p>
                <button type="button" on:click=act(move || store.take_theirs())>"Take the other tab's"</button>
                <button type="button" on:click=act(move || store.keep_mine())>"Keep this tab's"</button>
                <button type="button" on:click=export()>"Export file"</button>
            </section>
        }
        .into_any(),
    }
}

#[component]
fn UpdateNote() -> impl IntoView {
    let store = Store::here();
    let offline_state = Offline::here();
    let later = RwSignal::new(false);
    let reload = move || {
        store.flush();
        offline::apply_update();
    };
    let note = move || {
        view! {
            <section class="note" role="status" data-note="update">
                <p>"New version ready."</p>
                <button type="button" on:click=act(reload)>"Reload now"</button>
                <button type="button" on:click=act(move || later.set(true))>"Later"</button>
            </section>
        }
    };
    live_while(move || offline_state.update_waiting.get() && !later.get(), note)
}
