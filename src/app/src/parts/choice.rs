//! One of several: a list that opens, or segments side by side for two to four.

use leptos::prelude::*;

use super::ids;

/// A list to choose from: (key, shown text).
#[component]
pub fn ChoiceField(
    /// Name.
    #[prop(into)]
    label: String,
    /// Keys with their texts.
    #[prop(into)]
    options: Signal<Vec<(String, String)>>,
    /// Key in use.
    #[prop(into)]
    value: Signal<String>,
    /// Called with the new key.
    #[prop(into)]
    on_change: Callback<String>,
    /// One line of help.
    #[prop(optional, into)]
    help: String,
    /// Id of the list.
    #[prop(optional_no_strip, into)]
    id: Option<String>,
) -> impl IntoView {
    let id = ids::or_fresh(id);
    let help_id = format!("{id}-help");
    let option = move |(key, text): (String, String)| {
        let own = key.clone();
        view! { <option value=key prop:selected=move || value.with(|value| *value == own)>{text}</option> }
    };
    view! {
        <div class="field">
            <label for=id.clone()>{label}</label>
            <div class="field-box field-box-choice">
                <select id=id aria-describedby=help_id.clone()
                    on:change:target=move |ev| on_change.run(ev.target().value())>
                    {move || options.get().into_iter().map(option).collect_view()}
                </select>
            </div>
            <p class="field-help" id=help_id>{help}</p>
        </div>
    }
}

/// Two to four choices side by side, one tap each.
#[component]
pub fn SegmentField(
    /// Name.
    #[prop(into)]
    label: String,
    /// Keys with their texts.
    options: Vec<(String, String)>,
    /// Key in use.
    #[prop(into)]
    value: Signal<String>,
    /// Called with the new key.
    #[prop(into)]
    on_change: Callback<String>,
) -> impl IntoView {
    let group = ids::or_fresh(None);
    let segment = move |(key, text): (String, String)| {
        let (own, new) = (key.clone(), key.clone());
        view! {
            <label class="segment">
                <input type="radio" name=group.clone() value=key prop:checked=move || value.with(|value| *value == own)
                    on:change=move |_| on_change.run(new.clone()) />
                <span>{text}</span>
            </label>
        }
    };
    view! {
        <fieldset class="segments">
            <legend>{label}</legend>
            <div class="segments-row">{options.into_iter().map(segment).collect_view()}</div>
        </fieldset>
    }
}
