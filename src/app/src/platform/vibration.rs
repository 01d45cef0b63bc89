//! Vibration, where the browser has it: two engines of three have none.

use js_sys::{Array, Function, Reflect};
use wasm_bindgen::{JsCast, JsValue};

/// Vibrates: on, off, on, … milliseconds. False where the browser cannot, or will not before the page has been touched.
pub fn vibrate(pattern_ms: &[u32]) -> bool {
    let navigator: JsValue = leptos::prelude::window().navigator().into();
    if !touched(&navigator) {
        return false;
    }
    let Ok(vibrate) = Reflect::get(&navigator, &"vibrate".into()) else { return false };
    let Some(vibrate) = vibrate.dyn_ref::<Function>() else { return false };
    let pattern: Array = pattern_ms.iter().map(|ms| JsValue::from(*ms)).collect();
    vibrate.call1(&navigator, &pattern).is_ok_and(|done| done.is_truthy())
}

/// Whether the page has been touched since it was loaded; a browser that cannot say is asked all the same.
fn touched(navigator: &JsValue) -> bool {
    let there = |of: &JsValue, name: &str| Reflect::get(of, &name.into()).unwrap_or(JsValue::UNDEFINED);
    !there(&there(navigator, "userActivation"), "hasBeenActive").eq(&JsValue::FALSE)
}
