//! Setups: choose, start, name, copy, delete.

use leptos::prelude::*;
use liftmargin_document::schema::Setup;

use super::super::listing::{NameField, ThingButtons, choices_of};
use crate::parts::ChoiceField;
use crate::store::Store;

/// The setups of the crew.
#[component]
pub fn SetupsSection() -> impl IntoView {
    let store = Store::here();
    view! {
        <section class="setups">
            <Show when=move || !store.open.get().is_empty() fallback=|| view! { <p>"There is no setup yet."</p> }>
                <SetupChoice />
            </Show>
            {move || {
                let id = store.open.get();
                (!id.is_empty()).then(|| view! {
                    <NameField<Setup> id=id.clone() label="Name of this setup" />
                    <ThingButtons<Setup> id />
                })
            }}
            <p class="row">
                <button type="button" on:click=move |_| store.new_setup("New setup")>"New setup"</button>
            </p>
        </section>
    }
}

/// Which setup is open.
#[component]
pub fn SetupChoice() -> impl IntoView {
    let store = Store::here();
    let choices = choices_of::<Setup>(store);
    let there = Signal::derive(move || {
        choices.get().into_iter().filter(|(id, _)| !id.is_empty()).collect::<Vec<_>>()
    });
    view! {
        <ChoiceField label="Setup" options=there value=store.open on_change=move |id: String| store.select(&id) />
    }
}
