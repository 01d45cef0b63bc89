//! What was typed and is not counted with, above the answer: a refused field never leaves it looking whole.

use leptos::prelude::*;
use liftmargin_document::model::Site;
use liftmargin_document::record::Record;
use liftmargin_document::words::gust_below_wind;

use super::entry::element_id;
use super::problem::go_to_field;
use crate::live::{act, live};
use crate::router::Screen;
use crate::store::Store;

/// A line a field, with the way to it.
#[component]
pub fn RefusedBand() -> impl IntoView {
    let store = Store::here();
    live(move || {
        let mut lines: Vec<AnyView> = store
            .refusals()
            .into_iter()
            .map(|(place, words)| line(words, place.screen, place.element))
            .collect();
        lines.extend(gust(store));
        (!lines.is_empty()).then(|| {
            view! { <section class="note note-serious refused-band" data-band="refused" role="status" aria-label="Not counted with">{lines}</section> }
        })
    })
}

fn line(words: String, screen: Screen, element: String) -> AnyView {
    let go = act(move || go_to_field(screen, element.clone()));
    view! { <p class="row"><span>{words}</span> <button type="button" on:click=go>"Go to the field"</button></p> }.into_any()
}

/// Fields that belong together: the gust of the open setup's site against its wind.
fn gust(store: Store) -> Option<AnyView> {
    let id = store.with_setup(|setup| setup.site.clone())?;
    let units = store.units.get();
    let words = store.bundle.with(|bundle| gust_below_wind(Site::find(bundle, &id)?.1, units))?;
    Some(line(words, Screen::Site, element_id("sites", &id, "gust_m_s")))
}
