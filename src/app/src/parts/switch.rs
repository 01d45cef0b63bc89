//! On or off, the whole row a target.

use leptos::prelude::*;

use crate::live::{Flag, Text, ticked};

/// A row that is switched on or off.
#[component]
pub fn SwitchRow(
    /// Name.
    label: Text,
    /// Whether it is on.
    on: Flag,
    /// Called with the new state.
    on_change: Callback<bool>,
    /// What stands small below the name, such as a mass.
    sub: Text,
) -> impl IntoView {
    view! {
        <label class="switch-row">
            <span class="switch-words">
                <span class="switch-label">{label}</span>
                <span class="switch-sub">{sub}</span>
            </span>
            <input class="switch-input" type="checkbox" role="switch" prop:checked=on
                on:change=ticked(move |on| on_change.run(on)) />
            <span class="switch-track" aria-hidden="true"></span>
        </label>
    }
}
