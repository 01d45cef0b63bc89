//! Whether the browser promises to keep the page's data, and what sort of browser it is, for words on it.

use leptos::prelude::window;
use wasm_bindgen_futures::JsFuture;

/// Whether the browser promises not to clear the data on its own; asks it to where it has not yet been asked.
pub async fn ask() -> bool {
    let navigator = window().navigator();
    let has_one = js_sys::Reflect::has(&navigator, &"storage".into()).unwrap_or_default();
    if !has_one {
        return false;
    }
    let storage = navigator.storage();
    for promise in [storage.persisted(), storage.persist()] {
        let Ok(promise) = promise else { continue };
        if JsFuture::from(promise).await.is_ok_and(|answer| answer.is_truthy()) {
            return true;
        }
    }
    false
}

/// What the browser calls itself.
pub fn user_agent() -> String {
    window().navigator().user_agent().unwrap_or_default()
}

/// Whether fingers are what it expects: tells an iPad from the computer that it says it is.
pub fn has_touch() -> bool {
    window().navigator().max_touch_points() > 0
}

/// Whether the page runs as an installed app.
pub fn is_installed() -> bool {
    let by_media = window().match_media("(display-mode: standalone)").ok().flatten();
    let by_apple = js_sys::Reflect::get(&window().navigator(), &"standalone".into());
    by_media.is_some_and(|media| media.matches()) || by_apple.is_ok_and(|standalone| standalone.is_truthy())
}
