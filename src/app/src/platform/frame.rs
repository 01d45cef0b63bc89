//! Work that may wait: for the picture to be drawn, or for the fingers to rest.

use std::time::Duration;

use js_sys::Promise;
use leptos::leptos_dom::helpers::{TimeoutHandle, request_animation_frame, set_timeout_with_handle};
use wasm_bindgen::JsValue;
use wasm_bindgen_futures::JsFuture;

/// Runs `work` once the browser has drawn what has changed.
pub fn after_frame(work: impl FnOnce() + 'static) {
    // The callback runs before the frame is drawn, a timer of zero set in it runs after.
    request_animation_frame(move || after(Duration::ZERO, work));
}

/// Runs `work` after each frame until it says that it is done, at most so many times.
pub fn until(most: usize, work: impl Fn() -> bool + 'static) {
    after_frame(move || {
        if !work() && most > 1 {
            until(most - 1, work);
        }
    });
}

/// Runs `work` after a pause.
pub fn after(pause: Duration, work: impl FnOnce() + 'static) {
    let _ = after_unless_cleared(pause, work);
}

/// Runs `work` after a pause, unless the returned timer is cleared before; none where the browser gives no timer.
pub fn after_unless_cleared(pause: Duration, work: impl FnOnce() + 'static) -> Option<TimeoutHandle> {
    set_timeout_with_handle(work, pause).ok()
}

/// Lets the browser do what waits, such as a keystroke, before the work goes on.
pub async fn turn() {
    let turn = Promise::new(&mut |done, _| {
        after(Duration::ZERO, move || {
            let _ = done.call0(&JsValue::UNDEFINED);
        });
    });
    let _ = JsFuture::from(turn).await;
}
