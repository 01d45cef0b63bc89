//! Work that may wait: for the picture to be drawn, or for the fingers to rest.

use std::time::Duration;

use js_sys::Promise;
use leptos::leptos_dom::helpers::{TimeoutHandle, request_animation_frame, set_timeout_with_handle};
use wasm_bindgen::JsValue;
use wasm_bindgen_futures::JsFuture;

use super::clock;

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

/// So long a piece of work may take before the browser gets its turn: half a frame.
const PIECE_MS: f64 = 8.0;

/// Steps until `step` says that all is done, in pieces between which the browser gets its turn; false where the work is no
/// longer `wanted`.
pub async fn in_pieces<E>(
    mut step: impl FnMut() -> Result<bool, E>,
    wanted: impl Fn() -> bool,
) -> Result<bool, E> {
    let mut begun = clock::now_ms();
    while !step()? {
        if clock::now_ms() - begun > PIECE_MS {
            turn().await;
            begun = clock::now_ms();
        }
        if !wanted() {
            return Ok(false);
        }
    }
    Ok(true)
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
