//! What a recording teaches of the packs: shown when asked, taken when asked again.

use leptos::prelude::*;
use liftmargin_document::log::{PackLesson, pack_lesson, take_lesson};
use liftmargin_document::words::{lesson_words, sentence};

use super::super::listing::fault_view;
use crate::live::{act, live};
use crate::store::Store;

/// The part of an entry that has a recording.
pub fn lesson(store: Store, id: &str) -> AnyView {
    let said = RwSignal::new(None::<Result<PackLesson, String>>);
    let own = id.to_owned();
    let learn = act(move || {
        let lesson = store.bundle.with_untracked(|bundle| pack_lesson(bundle, &own));
        said.set(Some(lesson.map_err(|fault| sentence(&format!("Nothing is learned: {fault}")))));
    });
    let take = move || {
        act(move || {
            if let Some(Ok(lesson)) = said.get_untracked() {
                store.edit_alone(
                    "what was learned of packs",
                    Box::new(move |now| *now = take_lesson(now, &lesson)),
                );
                store.undo_offer.set(Some("Packs changed by what was learned".to_owned()));
                said.set(None);
            }
        })
    };
    let shown = move |outcome| match outcome {
        Ok(lesson) => {
            let lines: Vec<AnyView> = lesson_words(&lesson)
                .into_iter()
                .map(|words| view! { <li>{words}</li> }.into_any())
                .collect();
            view! {
                <ul data-figure="pack-lesson">{lines}</ul>
                <p class="row">
                    <button type="button" class="button-strong" on:click=take()>"Take it for these packs"</button>
                    <button type="button" on:click=act(move || said.set(None))>"Leave it"</button>
                </p>
            }
            .into_any()
        }
        Err(words) => fault_view(words),
    };
    view! {
        <p class="row"><button type="button" on:click=learn>"Learn these packs from the recording"</button></p>
        {live(move || said.get().map(shown))}
    }
    .into_any()
}
