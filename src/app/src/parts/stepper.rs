//! A small whole number, one up or down by thumb.

use leptos::prelude::*;
use liftmargin_core::bound::Bound;
use liftmargin_document::measure;

use super::ids;

/// A count with two large buttons; it stops at the ends of the bound.
#[component]
pub fn StepperField(
    /// The range; also gives label and help.
    bound: &'static Bound,
    /// The count in use.
    #[prop(into)]
    value: Signal<u32>,
    /// Called with the new count.
    #[prop(into)]
    on_change: Callback<u32>,
    /// Name, if not the bound's own.
    #[prop(optional_no_strip, into)]
    label: Option<String>,
) -> impl IntoView {
    let id = ids::or_fresh(None);
    let label = label.unwrap_or_else(|| measure::label(bound.field).to_owned());
    let (least, greatest) = (bound.min as u32, bound.max as u32);
    let at_least = move || value.get() <= least;
    let at_most = move || value.get() >= greatest;
    view! {
        <div class="field" role="group" aria-labelledby=id.clone() data-field=bound.field>
            <span class="field-label" id=id.clone()>{label.clone()}</span>
            <div class="stepper">
                <button type="button" aria-label=format!("{label}: one less") prop:disabled=at_least
                    on:click=move |_| on_change.run(value.get_untracked().saturating_sub(1).max(least))>"\u{2212}"</button>
                <output aria-live="polite">{value}</output>
                <button type="button" aria-label=format!("{label}: one more") prop:disabled=at_most
                    on:click=move |_| on_change.run(value.get_untracked().saturating_add(1).min(greatest))>"+"</button>
            </div>
            <p class="field-help">{measure::help(bound.field)}</p>
        </div>
    }
}
