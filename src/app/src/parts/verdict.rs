//! The verdict: word, shape and colour, with the worst check in one sentence.

use leptos::prelude::*;
use liftmargin_core::limits::State;
use liftmargin_document::measure::checks::state_word;

use super::state_mark::{StateMark, key};

/// The verdict banner.
#[component]
pub fn VerdictBanner(
    /// The worst state.
    #[prop(into)]
    state: Signal<State>,
    /// Why, in one sentence.
    #[prop(into)]
    sentence: Signal<String>,
) -> impl IntoView {
    view! {
        <section class="verdict" data-state=move || key(state.get()) role="status">
            {move || view! { <StateMark state=state.get() /> }}
            <p class="verdict-words" data-figure="verdict">
                <strong class="verdict-word">{move || state_word(state.get())}</strong>
                " "
                <span class="verdict-sentence">{sentence}</span>
            </p>
        </section>
    }
}
