//! Whether the browser promises to keep the page's data, and what sort of browser it is, for words on it.

use js_sys::Promise;
use leptos::prelude::window;
use wasm_bindgen::JsValue;
use wasm_bindgen_futures::JsFuture;
use web_sys::StorageManager;

/// Whether the browser promises not to clear the data on its own.
pub async fn is_promised() -> bool {
    let Some(storage) = storage() else { return false };
    is_true(storage.persisted()).await
}

/// As `is_promised`, and asks it to where it has not promised yet.
pub async fn ask() -> bool {
    let Some(storage) = storage() else { return false };
    is_promised().await || is_true(storage.persist()).await
}

/// An old browser has none.
fn storage() -> Option<StorageManager> {
    let navigator = window().navigator();
    let has_one = js_sys::Reflect::has(&navigator, &"storage".into()).unwrap_or_default();
    has_one.then(|| navigator.storage())
}

async fn is_true(answer: Result<Promise, JsValue>) -> bool {
    let Ok(promise) = answer else { return false };
    JsFuture::from(promise).await.is_ok_and(|answer| answer.is_truthy())
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
