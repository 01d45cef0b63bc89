//! The verdict: word, shape and colour, with the worst check in one sentence.

use leptos::prelude::*;
use liftmargin_core::limits::State;
use liftmargin_document::measure::checks::state_word;

use super::state_mark::{key, state_mark};

/// The verdict banner.
#[component]
pub fn VerdictBanner(
    /// The worst state.
    state: State,
    /// Why, in one sentence.
    sentence: String,
) -> impl IntoView {
    view! {
        <section class="verdict" data-state=key(state) role="status">
            {state_mark(state)}
            <p class="verdict-words" data-figure="verdict">
                <strong class="verdict-word">{state_word(state)}</strong>
                " "
                <span class="verdict-sentence">{sentence}</span>
            </p>
        </section>
    }
}
