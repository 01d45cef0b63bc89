//! Work that may wait: for the picture to be drawn, or for the fingers to rest.

use std::cell::RefCell;
use std::rc::Rc;
use std::time::Duration;

use js_sys::Promise;
use leptos::leptos_dom::helpers::{TimeoutHandle, request_animation_frame, set_timeout_with_handle};
use wasm_bindgen::JsValue;
use wasm_bindgen_futures::JsFuture;

use super::clock;

thread_local! {
    /// What waits for the next frame: the browser is asked for it once.
    static AFTER_FRAME: RefCell<Vec<Box<dyn FnOnce()>>> = const { RefCell::new(Vec::new()) };
}

/// Runs `work` once the browser has drawn what has changed.
pub fn after_frame(work: impl FnOnce() + 'static) {
    let is_first = AFTER_FRAME.with_borrow_mut(|waiting| {
        waiting.push(Box::new(work));
        waiting.len() == 1
    });
    if is_first {
        // The callback runs before the frame is drawn, a timer of zero set in it runs after.
        request_animation_frame(|| {
            for work in AFTER_FRAME.take() {
                after(Duration::ZERO, work);
            }
        });
    }
}

/// Work for when the fingers rest: one timer, however many keys.
pub struct Rest {
    pause: Duration,
    waiting: RefCell<Option<Waiting>>,
}

struct Waiting {
    work: Box<dyn FnOnce()>,
    since_ms: f64,
}

impl Rest {
    /// Rest is this long without a call.
    pub const fn new(pause: Duration) -> Self {
        Self { pause, waiting: RefCell::new(None) }
    }

    /// Runs `work` once nothing more was asked for during the pause, in the place of what was asked for before.
    pub fn after(self: &Rc<Self>, work: impl FnOnce() + 'static) {
        let waiting = Waiting { work: Box::new(work), since_ms: clock::run_ms() };
        if self.waiting.replace(Some(waiting)).is_none() {
            self.wait(self.pause);
        }
    }

    fn wait(self: &Rc<Self>, pause: Duration) {
        let rest = Rc::clone(self);
        after(pause, move || {
            let Some(waiting) = rest.waiting.take() else { return };
            let rested_ms = (clock::run_ms() - waiting.since_ms).max(0.0);
            let left = rest.pause.saturating_sub(Duration::from_secs_f64(rested_ms / 1000.0));
            // A timer may come a little early.
            if left.as_millis() == 0 {
                (waiting.work)();
            } else {
                rest.waiting.replace(Some(waiting));
                rest.wait(left);
            }
        });
    }
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
