//! Keeping the screen awake, where the browser can.

use core::cell::RefCell;

use js_sys::{Function, Promise, Reflect};
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;

thread_local! {
    /// The lock that is held.
    static HELD: RefCell<Option<JsValue>> = const { RefCell::new(None) };
}

fn call(of: &JsValue, name: &str, arguments: &[JsValue]) -> Option<JsFuture> {
    let function: Function = Reflect::get(of, &name.into()).ok()?.dyn_into().ok()?;
    let promise = match arguments {
        [first] => function.call1(of, first),
        _ => function.call0(of),
    };
    Some(JsFuture::from(promise.ok()?.dyn_into::<Promise>().ok()?))
}

/// Asks for it; says whether the screen stays awake. A page that was hidden must ask again.
pub fn hold(told: impl Fn(bool) + 'static) {
    leptos::task::spawn_local(async move {
        let navigator: JsValue = leptos::prelude::window().navigator().into();
        let lock = Reflect::get(&navigator, &"wakeLock".into()).ok().filter(JsValue::is_object);
        let asked = lock.and_then(|lock| call(&lock, "request", &["screen".into()]));
        let given = match asked {
            Some(asked) => asked.await.ok(),
            None => None,
        };
        let is_held = given.is_some();
        HELD.set(given);
        told(is_held);
    });
}

/// Lets the screen sleep again.
pub fn release() {
    if let Some(released) = HELD.take().and_then(|held| call(&held, "release", &[])) {
        leptos::task::spawn_local(async move {
            let _ = released.await;
        });
    }
}
