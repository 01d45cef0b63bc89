//! What stands around every screen: notes that must be seen, the bar to the screens, the way back.

use any_spawner::Executor;
use leptos::mount::mount_to_body;
use leptos::prelude::*;
use leptos::task::spawn_local;
use liftmargin_document::log::in_the_air;

use crate::bar::Bar;
use crate::live::{live, live_while, memo};
use crate::parts::UndoBar;
use crate::platform::storage::StorageFault;
use crate::platform::{frame, page};
use crate::router::open_screen;
use crate::screens::{LeftFlight, Modules, Notes, Part, RefusedBand, Screen, UnreadScreen, WhatIfBand};
use crate::store::{Answer, Offline, Opened, Sheet, Store};

/// Reads what the browser kept, then draws the app; where it cannot be read, a page that says so.
pub fn start() {
    // The library prepares this itself, but only once something is drawn.
    drop(Executor::init_wasm_bindgen());
    spawn_local(async {
        let opened = match Opened::read().await {
            Ok(opened) => opened,
            Err(fault) => return draw(move || view! { <Door fault /> }),
        };
        // What is held is held as long as the page is there.
        let page = Box::leak(Box::new(Owner::new()));
        let (store, answer) = page.with(|| {
            let held @ (store, answer) = hold(opened);
            answer.shown(store).card.with_untracked(|_| ());
            held
        });
        // The card is worked out by now: computing and drawing in one task would be a long one.
        frame::turn().await;
        page.with(|| draw(move || view! { <App store answer /> }));
    });
}

fn draw<V: IntoView + 'static>(view: impl FnOnce() -> V + 'static) {
    page::end_starting();
    mount_to_body(view);
}

/// All that the screens follow.
fn hold(opened: Opened) -> (Store, Answer) {
    let store = Store::start(opened);
    (store, Answer::start(store))
}

/// What is kept cannot be read: nothing is shown in its place until the crew says so.
#[component]
fn Door(fault: StorageFault) -> impl IntoView {
    let without = RwSignal::new(false);
    live(move || {
        if without.get() {
            let (store, answer) = hold(Opened::without(fault.clone()));
            view! { <App store answer /> }.into_any()
        } else {
            view! { <UnreadScreen fault=fault.clone() without /> }.into_any()
        }
    })
}

/// The app.
#[component]
pub fn App(
    /// What the app holds.
    store: Store,
    /// What it comes to.
    answer: Answer,
) -> impl IntoView {
    provide_context(store);
    provide_context(answer);
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
            // Its buttons change the setup.
            {live_while(move || !held.get(), || view! { <WhatIfBand /> })}
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
