//! What stands around every screen: notes that must be seen, the bar to the screens, the way back.

use leptos::mount::mount_to_body;
use leptos::prelude::*;
use liftmargin_document::log::in_the_air;

use crate::bar::Bar;
use crate::live::{live, live_while, memo};
use crate::parts::UndoBar;
use crate::platform::storage::StorageFault;
use crate::router::open_screen;
use crate::screens::{LeftFlight, Modules, Notes, Part, RefusedBand, Screen, UnreadScreen, WhatIfBand};
use crate::store::{Answer, Offline, Opened, Sheet, Store};

/// Reads what the browser kept, then draws the app; where it cannot be read, a page that says so.
pub fn start() {
    // The library's own way to wait is there only once something is drawn.
    wasm_bindgen_futures::spawn_local(async {
        match Opened::read().await {
            Ok(opened) => mount_to_body(move || view! { <App opened /> }),
            Err(fault) => mount_to_body(move || view! { <Door fault /> }),
        }
    });
}

/// What is kept cannot be read: nothing is shown in its place until the crew says so.
#[component]
fn Door(fault: StorageFault) -> impl IntoView {
    let without = RwSignal::new(false);
    live(move || {
        if without.get() {
            let opened = Opened::without(fault.clone());
            view! { <App opened /> }.into_any()
        } else {
            view! { <UnreadScreen fault=fault.clone() without /> }.into_any()
        }
    })
}

/// The app.
#[component]
pub fn App(
    /// What the browser kept.
    opened: Opened,
) -> impl IntoView {
    let store = Store::start(opened);
    provide_context(store);
    provide_context(Answer::start(store));
    let offline = Offline::start();
    provide_context(offline);
    provide_context(Sheet::new());
    let screen = open_screen();
    let left = RwSignal::new(false);
    provide_context(LeftFlight(left));
    // While motors turn nothing leads out of the flight but the crew's own word.
    let aloft = memo(move || store.bundle.with(|bundle| in_the_air(bundle).is_some()));
    let held = memo(move || aloft.get() && !left.get());
    let shown = memo(move || if held.get() { Screen::Airborne } else { screen.get() });
    let modules = Modules::new();
    provide_context(modules);
    // Not before the first card's own files are kept: over one bar of signal they would wait for each other.
    Effect::new(move |_| {
        if offline.settled.get() {
            modules.fetch_all();
        }
    });
    let open = move || modules.screen(shown.get());
    view! {
        {live_while(move || !held.get(), || view! { <Notes /> })}
        <div class="in-view">
            {live_while(move || aloft.get() && !held.get() && shown.get() != Screen::Airborne, move || modules.flight_band())}
            <WhatIfBand />
            {live_while(move || !held.get(), || view! { <RefusedBand /> })}
            {live_while(move || shown.get().changes_setup() && !store.open.with(String::is_empty), move || modules.part(Part::AnswerBar))}
        </div>
        {live(open)}
        <div class="foot">
            // The way back from a deletion, in reach of the thumb.
            <UndoBar text=store.undo_offer on_undo=Callback::new(move |()| store.undo()) />
            {live_while(move || !held.get(), move || view! { <Bar screen /> })}
        </div>
    }
}
