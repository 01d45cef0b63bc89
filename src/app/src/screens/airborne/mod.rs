//! Airborne: the flight itself. Before lift-off a short list, in the air large figures, after it an entry of the log.

mod flying;
mod gate;
mod keypad;
mod landing;
mod state;

use leptos::prelude::*;
use liftmargin_document::airborne::running;
use liftmargin_document::log::in_the_air;

use crate::live::{act, live, memo, text};
use crate::platform::clock;
use crate::store::Store;

/// Whether the crew has left the view of the flight in the air on purpose.
#[derive(Clone, Copy)]
pub struct LeftFlight(pub RwSignal<bool>);

impl LeftFlight {
    /// That of the app that the component is in.
    pub fn here() -> Self {
        expect_context::<Self>()
    }
}

/// The screen.
#[component]
pub fn AirborneScreen() -> impl IntoView {
    let store = Store::here();
    let flight = memo(move || {
        store.bundle.with(|bundle| in_the_air(bundle).map(|flight| flight.id.clone())).unwrap_or_default()
    });
    let part = move || {
        let id = flight.get();
        if id.is_empty() { gate::gate(store) } else { flying::flying(store, &id) }
    };
    view! {
        <main data-screen="airborne">
            <h1 class="only-read">"Airborne"</h1>
            {live(part)}
        </main>
    }
}

/// Above every other screen while a flight is in the air: the way back to it.
#[component]
pub fn FlightBand() -> impl IntoView {
    let (store, left) = (Store::here(), LeftFlight::here());
    let now = RwSignal::new(clock::now_ms());
    clock::every(state::TICK, move || now.set(clock::now_ms()));
    let words = text(move || {
        let start = store.bundle.with(|bundle| in_the_air(bundle).map(|flight| flight.lift_off_unix_ms));
        let seconds = start.map_or(0.0, |start| (now.get() - start) / 1000.0);
        format!("In the air {}: back to the flight", running(seconds))
    });
    view! {
        <button type="button" class="button-strong flight-band" data-band="flight" on:click=act(move || left.0.set(false))>
            {words}
        </button>
    }
}
