//! Setups: choose, start, name, copy, delete.

use leptos::prelude::*;
use liftmargin_document::record::List;

use super::super::listing::{name_field, thing_buttons};
use crate::live::{act, live_for, text};
use crate::parts::ChoiceField;
use crate::store::Store;

/// The setups of the crew.
#[component]
pub fn SetupsSection() -> impl IntoView {
    let store = Store::here();
    let open = move |id: String| {
        view! {
            <SetupChoice />
            {name_field(List::Setups, &id, "Name of this setup")}
            {thing_buttons(List::Setups, &id)}
        }
    };
    view! {
        <section class="setups">
            {live_for(move || store.open.get(), open)}
            <p class="row">
                <button type="button" on:click=act(move || store.new_setup("New setup"))>"New setup"</button>
            </p>
        </section>
    }
}

/// Which setup is open.
#[component]
pub fn SetupChoice() -> impl IntoView {
    let store = Store::here();
    let there = move || store.bundle.with(|bundle| List::Setups.names(bundle));
    view! {
        <ChoiceField label="Setup" options=Box::new(there) value=text(move || store.open.get())
            on_change=Callback::new(move |id: String| store.select(&id)) />
    }
}
