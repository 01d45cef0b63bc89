//! What the card counts with, each part with the way to its field.

use leptos::prelude::*;
use liftmargin_document::model::Setup;
use liftmargin_document::record::Record;
use liftmargin_document::words::counts_with::{CountedWith, counts_with};

use crate::live::{act, live, memo};
use crate::router::Screen;
use crate::screens::entry::element_id;
use crate::screens::problem::go_to_field;
use crate::store::Store;

/// The line.
#[component]
pub fn CountedLine() -> impl IntoView {
    let store = Store::here();
    let part = |part: CountedWith| {
        let at_site = part.list == "sites" || part.path == "site" || part.path.starts_with("profile");
        let screen = if at_site { Screen::Site } else { Screen::Build };
        let element = element_id(part.list, &part.id, part.path);
        let go = act(move || go_to_field(screen, element.clone()));
        view! { <button type="button" class="button-plain" on:click=go>{part.words}</button> }.into_any()
    };
    let parts = memo(move || {
        let (id, units) = (store.open.get(), store.units.get());
        store.bundle.with(|bundle| {
            Setup::find(bundle, &id).map(|(_, setup)| counts_with(bundle, setup, units)).unwrap_or_default()
        })
    });
    let line = move || parts.get().into_iter().map(part).collect::<Vec<AnyView>>();
    view! { <section class="counted" data-figure="counts-with" aria-label="Counting with">{live(line)}</section> }
}
