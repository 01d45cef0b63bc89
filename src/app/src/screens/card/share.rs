//! The answer as a text for the crew's messages, where the phone can share.

use leptos::prelude::*;
use liftmargin_document::present::answer;
use liftmargin_document::words::{self, checks};

use super::{card_of, judged};
use crate::live::act;
use crate::platform::share;
use crate::store::{Store, Track, flight_of};

/// A button that shares the answer; nothing where the browser cannot.
#[component]
pub fn ShareAnswer(track: Track) -> impl IntoView {
    let store = Store::here();
    let go = act(move || {
        if let Some(text) = untrack(|| text(store, track)) {
            share::share_text("Liftmargin", &text);
        }
    });
    share::can_share().then(|| {
        view! {
            <p class="row"><button type="button" on:click=go>"Share this answer"</button></p>
        }
    })
}

/// The answer with its setup, its meter and its caution.
fn text(store: Store, track: Track) -> Option<String> {
    let card = card_of(track)?;
    let units = store.units.get();
    let name = store.with_setup(|setup| setup.name.clone())?;
    let verdict = checks::verdict(&judged(track, &card).verdict);
    let Some(headline) = track.headline() else {
        return Some(format!("{name}: {verdict}"));
    };
    let meter = words::meter_place(flight_of(&card)?.marks.place);
    Some(format!(
        "{name}: land by {} and turn back at {} ({meter}), flight time {}, cautious. {verdict} The pilot in command decides.",
        answer::charge(headline.land_by?, units),
        answer::charge(headline.turn_back?, units),
        answer::time(headline.flight_time?),
    ))
}
