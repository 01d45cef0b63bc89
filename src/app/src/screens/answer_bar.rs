//! The answer in one line, in view while a setup is changed, and what each change did to it in words.

use leptos::prelude::*;
use liftmargin_core::limits::State;
use liftmargin_document::present::Standing;
use liftmargin_document::words::checks::state_word;

use super::card::standing_of;
use crate::live::{live_while, memo, text};
use crate::parts::live_state_mark;
use crate::store::{Answer, Store};

/// The bar: verdict, land by, minutes.
#[component]
pub fn AnswerBar() -> impl IntoView {
    let store = Store::here();
    let answer = Answer::here();
    let standing = memo(move || standing_of(answer.shown(store)));
    let state = memo(move || standing.with(|standing| standing.as_ref().map_or(State::No, |is| is.state)));
    let word = move || {
        if standing.with(Option::is_none) {
            "No answer yet".to_owned()
        } else {
            state_word(state.get()).to_owned()
        }
    };
    let of = move |words: fn(&Standing, Store) -> String| {
        text(move || standing.with(|is| is.as_ref().map_or_else(|| "none".to_owned(), |is| words(is, store))))
    };
    let tag = || view! { <span class="what-if-tag">"What if"</span> };
    view! {
        <section class="answer-bar" data-bar="answer" aria-label="The answer"
            data-state=text(move || state.get().key().to_owned())>
            {live_while(move || store.has_what_if(), tag)}
            {live_state_mark(state)}
            <strong data-figure="verdict">{text(word)}</strong>
            <p>"Land by " <b data-figure="land-by">{of(|is, store| is.land_by_words(store.units.get()))}</b></p>
            <p>"Flight time " <b data-figure="flight-time">{of(|is, _| is.flight_time_words())}</b></p>
            <p class="answer-moved" role="status" aria-live="polite" data-figure="moved">{moved(store, standing)}</p>
        </section>
    }
}

/// What the last change did, of one setup and with its samples flown.
fn moved(store: Store, standing: Memo<Option<Standing>>) -> impl Fn() -> String {
    let words = RwSignal::new(String::new());
    Effect::new(move |last: Option<Option<(String, Standing)>>| {
        let last = last.flatten();
        let open = store.open.get();
        let Some(now) = standing.get() else { return last.filter(|(id, _)| *id == open) };
        match last {
            Some((id, before)) if id == open => {
                if !now.is_settled {
                    return Some((id, before));
                }
                if let Some(said) = Standing::moved(&before, &now, store.units.get_untracked()) {
                    words.set(said);
                }
                Some((id, now))
            }
            _ => {
                words.set(String::new());
                now.is_settled.then_some((open, now))
            }
        }
    });
    move || words.get()
}
