//! One of several: a list that opens, or segments side by side for two to four.

use leptos::prelude::*;

use super::ids;
use crate::live::{Text, act_on, flag, live, memo, typed};

/// What can be chosen: keys with their texts.
pub type Choices = Vec<(String, String)>;

/// A list to choose from.
#[component]
pub fn ChoiceField(
    /// Name.
    #[prop(into)]
    label: String,
    /// Keys with their texts.
    options: Box<dyn Fn() -> Choices + Send + Sync>,
    /// Key in use.
    value: Text,
    /// Called with the new key.
    on_change: Callback<String>,
    /// Id of the list.
    #[prop(optional_no_strip)]
    id: Option<String>,
) -> impl IntoView {
    let id = ids::or_fresh(id);
    let (value, options) = (memo(value), memo(options));
    let option = move |(key, text): (String, String)| {
        let own = key.clone();
        let chosen = flag(move || value.with(|value| *value == own));
        view! { <option value=key prop:selected=chosen>{text}</option> }.into_any()
    };
    view! {
        <div class="field">
            <label for=id.clone()>{label}</label>
            <div class="field-box field-box-choice">
                <select id=id on:change=typed(move |key| on_change.run(key))>
                    {live(move || options.get().into_iter().map(option).collect::<Vec<AnyView>>())}
                </select>
            </div>
        </div>
    }
}

/// Two to four choices side by side, one tap each.
#[component]
pub fn SegmentField(
    /// Name.
    label: &'static str,
    /// Keys with their texts.
    options: Choices,
    /// Key in use.
    value: Text,
    /// Called with the new key.
    on_change: Callback<String>,
) -> impl IntoView {
    let group = ids::fresh();
    let value = memo(value);
    let segment = move |(key, text): (String, String)| {
        let (own, new) = (key.clone(), key.clone());
        let chosen = flag(move || value.with(|value| *value == own));
        view! {
            <label class="segment">
                <input type="radio" name=group.clone() value=key prop:checked=chosen
                    on:change=act_on(move || on_change.run(new.clone())) />
                <span>{text}</span>
            </label>
        }
        .into_any()
    };
    view! {
        <fieldset class="segments">
            <legend>{label}</legend>
            <div class="segments-row">{options.into_iter().map(segment).collect::<Vec<AnyView>>()}</div>
        </fieldset>
    }
}
