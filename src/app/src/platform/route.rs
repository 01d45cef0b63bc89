//! Hash routes: any static host serves them, also below a sub-path and offline.

use leptos::prelude::{window, window_event_listener_untyped};

/// What stands after `#`.
pub fn hash() -> String {
    let hash = window().location().hash().unwrap_or_default();
    hash.strip_prefix('#').unwrap_or(&hash).to_owned()
}

/// The address of the page without what stands after `#`.
pub fn page() -> String {
    let address = window().location().href().unwrap_or_default();
    address.split('#').next().unwrap_or(&address).to_owned()
}

/// Goes to another hash; the browser's way back stays open.
pub fn go(hash: &str) {
    let _ = window().location().set_hash(hash);
}

/// Goes to another hash in the place of this one: neither a reload nor the browser's way back finds it again.
pub fn go_instead(hash: &str) {
    let _ = window().location().replace(&format!("{}#{hash}", page()));
}

/// Calls `told` with each new hash.
pub fn on_change(told: impl Fn(String) + 'static) {
    window_event_listener_untyped("hashchange", move |_| told(hash()));
}
