//! Vibration, where the browser has it: two engines of three have none.

use js_sys::{Array, Function, Reflect};
use wasm_bindgen::{JsCast, JsValue};

/// Vibrates: on, off, on, … milliseconds. False where the browser cannot.
pub fn vibrate(pattern_ms: &[u32]) -> bool {
    let navigator: JsValue = leptos::prelude::window().navigator().into();
    let Ok(vibrate) = Reflect::get(&navigator, &"vibrate".into()) else { return false };
    let Some(vibrate) = vibrate.dyn_ref::<Function>() else { return false };
    let pattern: Array = pattern_ms.iter().map(|ms| JsValue::from(*ms)).collect();
    vibrate.call1(&navigator, &pattern).is_ok_and(|done| done.is_truthy())
}
