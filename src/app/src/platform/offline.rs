//! What the page's start script says of the service worker: kept for offline use, a new version waiting.

use leptos::prelude::{document, window, window_event_listener_untyped};
use wasm_bindgen::JsCast;

/// Calls `told` once everything is kept for offline use, at once if it already is.
pub fn on_ready(told: impl Fn() + 'static) {
    on_flag("offline", "ready", told);
}

/// Calls `told` once it is known whether everything is kept, whatever the answer.
pub fn on_settled(told: impl Fn() + Clone + 'static) {
    for answer in ["ready", "failed", "unavailable"] {
        on_flag("offline", answer, told.clone());
    }
}

/// Calls `told` once a new version is waiting, at once if it already is.
pub fn on_update(told: impl Fn() + 'static) {
    on_flag("update", "waiting", told);
}

/// Calls `told` where the newest version did not start and this one, the one before, is back.
pub fn on_fallback(told: impl Fn() + 'static) {
    on_flag("fallback", "used", told);
}

/// Lets the waiting version take over; the start script reloads the page.
pub fn apply_update() {
    if let Ok(event) = web_sys::CustomEvent::new("apply-update") {
        let _ = window().dispatch_event(&event);
    }
}

fn on_flag(flag: &str, value: &str, told: impl Fn() + 'static) {
    // The start script leaves a flag on <html> for an app that starts after the event.
    let set = document()
        .document_element()
        .and_then(|root| root.dyn_into::<web_sys::HtmlElement>().ok())
        .is_some_and(|root| root.dataset().get(flag).as_deref() == Some(value));
    if set {
        told();
    }
    window_event_listener_untyped(&format!("{flag}-{value}"), move |_| told());
}
