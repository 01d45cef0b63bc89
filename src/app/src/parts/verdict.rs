//! The verdict: word, shape and colour, with the worst check in one sentence.

use leptos::prelude::*;
use liftmargin_core::limits::State;
use liftmargin_document::words::checks::state_word;

use super::state_mark::live_state_mark;
use crate::live::{Flag, Text, live_while, text};

/// The verdict banner.
#[component]
pub fn VerdictBanner(
    /// The worst state.
    state: Memo<State>,
    /// Why, in one sentence.
    sentence: Text,
    /// Whether it is of a what-if and not of the setup as saved.
    of_what_if: Flag,
) -> impl IntoView {
    let tag = || view! { <span class="what-if-tag">"What if"</span> };
    view! {
        <section class="verdict" data-state=text(move || state.get().key().to_owned()) role="status">
            {live_while(of_what_if, tag)}
            {live_state_mark(state)}
            <p class="verdict-words" data-figure="verdict">
                <strong class="verdict-word">{text(move || state_word(state.get()).to_owned())}</strong>
                " "
                <span class="verdict-sentence">{sentence}</span>
            </p>
        </section>
    }
}
