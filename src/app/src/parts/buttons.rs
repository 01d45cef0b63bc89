//! A button that opens a file.

use leptos::{ev, prelude::*};

/// A button for choosing a file. The event's target holds it; a door reads it.
#[component]
pub fn FileButton(
    /// Label.
    label: &'static str,
    /// Accepted kinds, such as `.json,application/json`.
    accept: &'static str,
    /// Called when a file is chosen.
    on_file: Box<dyn FnMut(ev::Event)>,
) -> impl IntoView {
    view! {
        <label class="button file-button">
            <span>{label}</span>
            <input type="file" accept=accept on:change=on_file />
        </label>
    }
}
