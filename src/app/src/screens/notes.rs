//! Notes above every screen: what must be seen before anything else.

use leptos::prelude::*;
use liftmargin_document::keep::{Aside, Conflict};
use liftmargin_document::open::{BrokenRecord, broken_as_file};
use liftmargin_document::record::List;
use liftmargin_document::words::keeping::{Engine, keeping_words};
use liftmargin_document::workspace::Workspace;

use crate::live::{act, live, live_each, live_while, memo};
use crate::parts::Table;
use crate::platform::{clock, file, offline, persist};
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
            {live(move || store.conflicts.get().iter().map(|one| conflict_note(store, one)).collect::<Vec<_>>())}
            {keeping_note(store)}
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
    let reason = Workspace::read(&text).err();
    let save = act(move || saved.set(file::save_text("liftmargin-rescued.json", "application/json", &text)));
    let why = reason.map(|reason| view! { <p>{format!("Reason: {reason}")}</p> });
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
                "It is set aside word for word and nothing has been written over it. Save it as a file; it can be imported again where it is whole."
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
    let line = |aside: &Aside| {
        let record = &aside.record;
        let name = if record.name.is_empty() { &record.id } else { &record.name };
        let what = List::from_key(&record.list).map_or("record", List::one);
        view! { <li>{format!("{what} {name}: {}", record.words)}</li> }.into_any()
    };
    let lines: Vec<AnyView> = broken.iter().map(line).collect();
    let records: Vec<BrokenRecord> = broken.iter().map(|aside| aside.record.clone()).collect();
    let text = broken_as_file(&records);
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
            <h2>"Some records need a look"</h2>
            <p>"They are kept word for word beside your data; everything else is there."</p>
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
    }
}

/// A record that this tab and another one changed: both values, and the choice.
fn conflict_note(store: Store, conflict: &Conflict) -> AnyView {
    let choose = |mine: bool| {
        let key = conflict.key.clone();
        act(move || store.settle(&key, mine))
    };
    let rows: Vec<Vec<String>> = conflict
        .differences
        .iter()
        .map(|(field, here, there)| vec![field.clone(), here.clone(), there.clone()])
        .collect();
    let head = ["Field", "This tab", "Other tab"].map(str::to_owned).to_vec();
    let theirs = (!conflict.is_later).then(|| {
        view! { <button type="button" on:click=choose(false)>"Take the other tab's"</button> }
    });
    let later = conflict.is_later.then(|| {
        view! { <p>"The other tab runs a newer version of this app: reload this one to read its value."</p> }
    });
    view! {
        <section class="note note-serious" role="alert" data-note="other-tab">
            <h2>{format!("Another tab has changed the same {}", conflict.list.one())}</h2>
            <p>"Both values are kept until you choose."</p>
            <Table caption=conflict.name.clone() head rows />
            {later}
            {theirs}
            <button type="button" on:click=choose(true)>"Keep this tab's"</button>
        </section>
    }
    .into_any()
}

/// What the browser does not promise.
fn keeping_note(store: Store) -> AnyView {
    let later = RwSignal::new(false);
    let words = memo(move || {
        let since = store.unexported_since_ms.get();
        let engine = Engine::of(&persist::user_agent(), persist::has_touch());
        let lasts = store.lasting.get().unwrap_or(true);
        keeping_words(engine, persist::is_installed(), lasts, since, clock::now_ms())
    });
    live(move || {
        words.get().filter(|_| !later.get()).map(|words| {
            view! {
                <section class="note" role="status" data-note="keeping">
                    <p>{words}</p>
                    <button type="button" on:click=act(move || store.once_all_read(move || drop(save_backup(store))))>"Export file"</button>
                    <button type="button" on:click=act(move || later.set(true))>"Later"</button>
                </section>
            }
        })
    })
}

#[component]
fn UpdateNote() -> impl IntoView {
    let store = Store::here();
    let offline_state = Offline::here();
    let later = RwSignal::new(false);
    let reload = move || {
        store.flush_then(offline::apply_update);
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
    let fell_back = move || {
        view! {
            <section class="note" role="status" data-note="update">
                <p>"The newest version did not start on this device. The one before it is back; your data is unchanged."</p>
                <button type="button" on:click=act(move || offline_state.fell_back.set(false))>"Close"</button>
            </section>
        }
    };
    view! {
        {live_while(move || offline_state.fell_back.get(), fell_back)}
        {live_while(move || offline_state.update_waiting.get() && !later.get(), note)}
    }
}
