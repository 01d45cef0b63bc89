//! A line of text: names and notes.

use leptos::prelude::*;

use super::ids;

/// A text field. Hands on each keystroke.
#[component]
pub fn TextField(
    /// Name.
    #[prop(into)]
    label: String,
    /// The text in use.
    #[prop(into)]
    value: Signal<String>,
    /// Called with each new text.
    #[prop(into)]
    on_change: Callback<String>,
    /// One line of help.
    #[prop(optional, into)]
    help: String,
    /// What is wrong with it, if anything.
    #[prop(optional, into)]
    fault: Signal<Option<String>>,
    /// Id of the input.
    #[prop(optional_no_strip, into)]
    id: Option<String>,
) -> impl IntoView {
    let id = ids::or_fresh(id);
    let (help_id, fault_id) = (format!("{id}-help"), format!("{id}-fault"));
    let wrong = move || fault.with(Option::is_some);
    view! {
        <div class="field" class:field-wrong=wrong>
            <label for=id.clone()>{label}</label>
            <div class="field-box">
                <input id=id type="text" autocomplete="off" aria-describedby=format!("{help_id} {fault_id}")
                    aria-invalid=move || wrong().to_string() prop:value=value
                    on:input:target=move |ev| on_change.run(ev.target().value()) />
            </div>
            <p class="field-fault" id=fault_id role="status">{fault}</p>
            <p class="field-help" id=help_id>{help}</p>
        </div>
    }
}
