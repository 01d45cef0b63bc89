//! What stands around every screen: notes that must be seen, the bar to the screens, the way back.

use leptos::prelude::*;

use crate::live::{live, text};
use crate::parts::UndoBar;
use crate::router::{Screen, open_screen};
use crate::screens::Notes;
use crate::store::{Answer, Offline, Store};

/// The app.
#[component]
pub fn App() -> impl IntoView {
    let store = Store::start();
    provide_context(store);
    provide_context(Answer::start(store));
    provide_context(Offline::start());
    let screen = open_screen();
    let open = move || screen.get().view();
    view! {
        <Notes />
        {live(open)}
        // The way back from a deletion, in reach of the thumb.
        <UndoBar text=store.undo_offer on_undo=Callback::new(move |()| store.undo()) />
        <Bar screen />
    }
}

/// The bar to the screens, under the thumb.
#[component]
fn Bar(screen: ReadSignal<Screen>) -> impl IntoView {
    let link = move |to: Screen| {
        let current = text(move || if screen.get() == to { "page" } else { "false" }.to_owned());
        view! { <a href=format!("#/{}", to.path()) aria-current=current>{to.name()}</a> }.into_any()
    };
    let links: Vec<AnyView> = Screen::ALL.into_iter().map(link).collect();
    view! { <nav class="bar" aria-label="Screens">{links}</nav> }
}
