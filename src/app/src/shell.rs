//! What stands around every screen: notes that must be seen, the bar to the screens, the way back.

use leptos::prelude::*;

use crate::parts::UndoBar;
use crate::router::{Screen, open_screen};
use crate::screens::{BuildScreen, CardScreen, Notes, SettingsScreen, SiteScreen};
use crate::store::{Answer, Offline, Store};

/// The app.
#[component]
pub fn App() -> impl IntoView {
    let store = Store::start();
    provide_context(store);
    provide_context(Answer::start(store));
    provide_context(Offline::start());
    let screen = open_screen();
    view! {
        <Notes />
        {move || match screen.get() {
            Screen::Card => view! { <CardScreen /> }.into_any(),
            Screen::Build => view! { <BuildScreen /> }.into_any(),
            Screen::Site => view! { <SiteScreen /> }.into_any(),
            Screen::Settings => view! { <SettingsScreen /> }.into_any(),
        }}
        <UndoOffer />
        <Bar screen />
    }
}

/// The way back from a deletion, in reach of the thumb.
#[component]
fn UndoOffer() -> impl IntoView {
    let store = Store::here();
    view! {
        <UndoBar text=store.undo_offer on_undo=move |()| store.undo() on_dismiss=move |()| store.undo_offer.set(None) />
    }
}

/// The bar to the screens, under the thumb.
#[component]
fn Bar(screen: ReadSignal<Screen>) -> impl IntoView {
    let link = move |to: Screen| {
        let current = move || (screen.get() == to).then_some("page");
        view! {
            <a href=format!("#/{}", to.path()) aria-current=current>
                {to.name()}
            </a>
        }
    };
    view! { <nav class="bar" aria-label="Screens">{Screen::ALL.map(link)}</nav> }
}
