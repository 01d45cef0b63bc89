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
    let Some((navigator, share)) = function() else { return };
    let data = Object::new();
    let _ = Reflect::set(&data, &"title".into(), &title.into());
    let _ = Reflect::set(&data, &"text".into(), &text.into());
    if let Ok(promise) = share.call1(&navigator, &data) {
        // Closing the sheet rejects the promise: nothing to say about that.
        let promise = js_sys::Promise::from(promise);
        leptos::task::spawn_local(async move {
            let _ = wasm_bindgen_futures::JsFuture::from(promise).await;
        });
    }
}
