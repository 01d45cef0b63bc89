//! A button that opens a file.

use leptos::{ev, prelude::*};

/// A button for choosing a file. The event's target holds it; a door reads it.
#[component]
pub fn FileButton(
    /// Label.
    #[prop(into)]
    label: String,
    /// Accepted kinds, such as `.json,application/json`.
    #[prop(into)]
    accept: String,
    /// Called when a file is chosen.
    #[prop(into)]
    on_file: UnsyncCallback<ev::Event>,
) -> impl IntoView {
    view! {
        <label class="button file-button">
            <span>{label}</span>
            <input type="file" accept=accept on:change=move |event| on_file.run(event) />
        </label>
    }
}
