//! On or off, the whole row a target.

use leptos::prelude::*;

/// A row that is switched on or off.
#[component]
pub fn SwitchRow(
    /// Name.
    #[prop(into)]
    label: Signal<String>,
    /// Whether it is on.
    #[prop(into)]
    on: Signal<bool>,
    /// Called with the new state.
    #[prop(into)]
    on_change: Callback<bool>,
    /// What stands small below the name, such as a mass.
    #[prop(optional, into)]
    sub: Signal<String>,
) -> impl IntoView {
    view! {
        <label class="switch-row">
            <span class="switch-words">
                <span class="switch-label">{label}</span>
                <span class="switch-sub">{sub}</span>
            </span>
            <input class="switch-input" type="checkbox" role="switch" prop:checked=on
                on:change:target=move |ev| on_change.run(ev.target().checked()) />
            <span class="switch-track" aria-hidden="true"></span>
        </label>
    }
}
