//! A line of text: names and notes.

use leptos::prelude::*;

use super::ids;
use crate::live::{Text, select_all, typed};

/// A text field. Hands on each keystroke.
#[component]
pub fn TextField(
    /// Name.
    label: &'static str,
    /// The text in use.
    value: Text,
    /// Called with each new text.
    on_change: Callback<String>,
    /// Whether it holds a number: the keypad for it.
    #[prop(optional)]
    numeric: bool,
) -> impl IntoView {
    let id = ids::fresh();
    view! {
        <div class="field">
            <label for=id.clone()>{label}</label>
            <div class="field-box">
                <input id=id type="text" autocomplete="off" inputmode=if numeric { "decimal" } else { "text" } prop:value=value on:focus=select_all() on:input=typed(move |text| on_change.run(text)) />
            </div>
        </div>
    }
}
