//! Notes above every screen: what must be seen before anything else.

use leptos::prelude::*;

use crate::doors::{file, offline};
use crate::screens::settings::save_backup;
use crate::store::{Offline, Rescued, Saving, Store};

/// All notes that apply, most serious first.
#[component]
pub fn Notes() -> impl IntoView {
    view! {
        <aside class="notes" aria-label="Notes">
            <RescueNotes />
            <SavingNote />
            <UpdateNote />
        </aside>
    }
}

#[component]
fn RescueNotes() -> impl IntoView {
    let store = Store::here();
    view! {
        <For each=move || store.rescued.get() key=|rescued| rescued.key.clone() let:rescued>
            <RescueNote rescued />
        </For>
    }
}

#[component]
fn RescueNote(rescued: Rescued) -> impl IntoView {
    let store = Store::here();
    let saved = RwSignal::new(false);
    let text = StoredValue::new(rescued.text);
    let key = StoredValue::new(rescued.key);
    let save = move |_| {
        text.with_value(|text| {
            saved.set(file::save_text("liftmargin-rescued.json", "application/json", text));
        });
    };
    let why = rescued.reason.map(|reason| view! { <p>"Reason: " {reason}</p> });
    view! {
        <section class="note note-serious" role="alert" data-note="rescue">
            <h2>"Your saved data could not be read"</h2>
            <p>
                "It is set aside word for word and nothing has been written over it. Save it as a file before you go on; what you see now is the invented demo."
            </p>
            {why}
            <button type="button" on:click=save>"Save file"</button>
            <Show when=move || saved.get()>
                <button type="button" on:click=move |_| store.drop_rescued(&key.get_value())>
                    "I have the file: remove it from this browser"
                </button>
            </Show>
        </section>
    }
}

#[component]
fn SavingNote() -> impl IntoView {
    let store = Store::here();
    move || {
        match store.saving.get() {
        Saving::Kept | Saving::Pending => ().into_any(),
        Saving::Failed(fault) => view! {
            <section class="note note-serious" role="alert" data-note="not-saved">
                <h2>"Your changes are not being kept"</h2>
                <p>"Reason: " {fault.to_string()} ". Export a file now, or they are lost when this page closes."</p>
                <button type="button" on:click=move |_| save_backup(store)>"Export file"</button>
                <button type="button" on:click=move |_| store.flush()>"Try again"</button>
            </section>
        }
        .into_any(),
        Saving::OtherTab(_) => view! {
            <section class="note note-serious" role="alert" data-note="other-tab">
                <h2>"Another tab has changed the data"</h2>
                <p>"This tab has changes too. Which ones are to be kept? Export a file first if you need both."</p>
                <button type="button" on:click=move |_| store.take_theirs()>"Take the other tab's"</button>
                <button type="button" on:click=move |_| store.keep_mine()>"Keep this tab's"</button>
                <button type="button" on:click=move |_| save_backup(store)>"Export file"</button>
            </section>
        }
        .into_any(),
    }
    }
}

#[component]
fn UpdateNote() -> impl IntoView {
    let store = Store::here();
    let offline_state = Offline::here();
    let later = RwSignal::new(false);
    let reload = move |_| {
        store.flush();
        offline::apply_update();
    };
    view! {
        <Show when=move || offline_state.update_waiting.get() && !later.get()>
            <section class="note" role="status" data-note="update">
                <p>"New version ready."</p>
                <button type="button" on:click=reload>"Reload now"</button>
                <button type="button" on:click=move |_| later.set(true)>"Later"</button>
            </section>
        </Show>
    }
}
