//! A line of text: names and notes.

use leptos::prelude::*;

use super::ids;
use crate::live::{Text, typed};

/// A text field. Hands on each keystroke.
#[component]
pub fn TextField(
    /// Name.
    label: &'static str,
    /// The text in use.
    value: Text,
    /// Called with each new text.
    on_change: Callback<String>,
) -> impl IntoView {
    let id = ids::fresh();
    view! {
        <div class="field">
            <label for=id.clone()>{label}</label>
            <div class="field-box">
                <input id=id type="text" autocomplete="off" prop:value=value on:input=typed(move |text| on_change.run(text)) />
            </div>
        </div>
    }
}
