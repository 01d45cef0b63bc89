//! Whether the app is kept for offline use, and whether a new version waits.

use leptos::prelude::*;

use crate::platform::offline;

/// What the service worker has said so far.
#[derive(Clone, Copy)]
pub struct Offline {
    /// Everything is kept.
    pub ready: RwSignal<bool>,
    /// Whether everything is kept or cannot be: the first visit's files are no longer on their way.
    pub settled: RwSignal<bool>,
    /// A new version waits for the crew's word.
    pub update_waiting: RwSignal<bool>,
    /// The newest version did not start on this device; the one before is back.
    pub fell_back: RwSignal<bool>,
}

impl Offline {
    /// Listens to the start script.
    pub fn start() -> Self {
        let signal = || RwSignal::new(false);
        let offline =
            Self { ready: signal(), settled: signal(), update_waiting: signal(), fell_back: signal() };
        offline::on_ready(move || offline.ready.set(true));
        offline::on_settled(move || offline.settled.set(true));
        offline::on_update(move || offline.update_waiting.set(true));
        offline::on_fallback(move || offline.fell_back.set(true));
        offline
    }

    /// The offline state of the app that the component is in.
    pub fn here() -> Self {
        expect_context::<Self>()
    }
}
