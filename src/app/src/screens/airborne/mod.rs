//! Airborne: the flight itself. Before lift-off a short list, in the air large figures, after it an entry of the log.

mod flying;
mod gate;
mod keypad;
mod landing;
mod state;

use leptos::prelude::*;
use liftmargin_core::airborne::AlarmKind;
use liftmargin_document::airborne::running;
use liftmargin_document::log::in_the_air;
use liftmargin_document::words;

use crate::live::{act, live, memo, text};
use crate::platform::wake_lock;
use crate::store::Store;
use state::Air;

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

/// Above every other screen while a flight is in the air: the way back to it, and its alarms.
pub fn flight_band((): ()) -> AnyView {
    let store = Store::here();
    let id = store.bundle.with_untracked(|bundle| in_the_air(bundle).map(|flight| flight.id.clone()));
    id.map(|id| band(Air::start(store, &id))).into_any()
}

#[allow(clippy::large_types_passed_by_value, reason = "handles, copied as a signal is")]
fn band(air: Air) -> AnyView {
    let left = LeftFlight::here();
    let sounding = flying::sounding(air);
    flying::call_again(sounding);
    wake_lock::hold(|_| ());
    on_cleanup(wake_lock::release);
    let back = move || left.0.set(false);
    let alarm = move |kind: AlarmKind| {
        flying::call(Some(kind));
        view! {
            <button type="button" class="alarm" role="alert" data-alarm=kind.key() on:click=act(back)>
                <strong>{words::alarm(kind)}</strong> " " <span>"Touch: back to the flight"</span>
            </button>
        }
        .into_any()
    };
    let running = text(move || {
        let start = air.flight.with(|flight| flight.as_ref().map(|flight| flight.lift_off_unix_ms));
        let seconds = start.map_or(0.0, |start| (air.now.get() - start) / 1000.0);
        format!("In the air {}: back to the flight", running(seconds))
    });
    view! {
        {live(move || sounding.get().first().map(|kind| alarm(*kind)))}
        <button type="button" class="button-strong flight-band" data-band="flight" on:click=act(back)>{running}</button>
    }
    .into_any()
}
