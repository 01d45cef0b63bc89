//! Notes above every screen: what must be seen before anything else.

use leptos::prelude::*;

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

fn saving_note(store: Store) -> AnyView {
    let export = || act(move || save_backup(store));
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
