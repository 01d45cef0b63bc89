//! The phone's own sharing, where there is one.

use js_sys::{Function, Object, Reflect};
use wasm_bindgen::{JsCast, JsValue};

fn function() -> Option<(JsValue, Function)> {
    // Reached by name: not every browser has it.
    let navigator: JsValue = web_sys::window()?.navigator().into();
    let share = Reflect::get(&navigator, &"share".into()).ok()?.dyn_into::<Function>().ok()?;
    Some((navigator, share))
}

/// Whether text can be shared from here.
pub fn can_share() -> bool {
    function().is_some()
}

/// Opens the phone's sharing sheet with a text.
pub fn share_text(title: &str, text: &str) {
    share_as("text", title, text);
}

/// Opens the phone's sharing sheet with a link.
pub fn share_link(title: &str, link: &str) {
    share_as("url", title, link);
}

/// Puts a text on the clipboard and tells whether it is there; not every browser lets a page.
pub fn copy_text(text: &str, told: impl Fn(bool) + 'static) {
    let written = web_sys::window().and_then(|window| {
        let clipboard = Reflect::get(&window.navigator().into(), &"clipboard".into()).ok()?;
        let write = Reflect::get(&clipboard, &"writeText".into()).ok()?.dyn_into::<Function>().ok()?;
        write.call1(&clipboard, &text.into()).ok()
    });
    let Some(written) = written else { return told(false) };
    let promise = js_sys::Promise::from(written);
    leptos::task::spawn_local(async move {
        told(wasm_bindgen_futures::JsFuture::from(promise).await.is_ok());
    });
}

fn share_as(kind: &str, title: &str, content: &str) {
    let Some((navigator, share)) = function() else { return };
    let data = Object::new();
    let _ = Reflect::set(&data, &"title".into(), &title.into());
    let _ = Reflect::set(&data, &kind.into(), &content.into());
    if let Ok(promise) = share.call1(&navigator, &data) {
        // Closing the sheet rejects the promise: nothing to say about that.
        let promise = js_sys::Promise::from(promise);
        leptos::task::spawn_local(async move {
            let _ = wasm_bindgen_futures::JsFuture::from(promise).await;
        });
    }
}
