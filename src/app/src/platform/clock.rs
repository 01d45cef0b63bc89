//! The wall clock, the clock that only runs, and a tick.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use leptos::leptos_dom::helpers::set_interval_with_handle;
use leptos::prelude::{on_cleanup, window};

/// Today in the words of the device.
pub fn today() -> String {
    js_sys::Date::new_0().to_date_string().into()
}

/// Milliseconds since 1970, UTC.
pub fn now_ms() -> f64 {
    js_sys::Date::now()
}

/// Milliseconds since the page was opened; nobody can set it.
pub fn run_ms() -> f64 {
    window().performance().map_or_else(now_ms, |performance| performance.now())
}

/// Minutes that the phone's own time is east of world time at a moment.
pub fn east_min(unix_ms: f64) -> f64 {
    -js_sys::Date::new(&unix_ms.into()).get_timezone_offset()
}

/// Calls `tick` again and again until the component that asked for it is gone.
pub fn every(pause: Duration, tick: impl Fn() + 'static) {
    // A timer whose number the browser does not take back falls silent all the same.
    let is_wanted = Arc::new(AtomicBool::new(true));
    let wanted = Arc::clone(&is_wanted);
    let tick = move || {
        if wanted.load(Ordering::Relaxed) {
            tick();
        }
    };
    if let Ok(handle) = set_interval_with_handle(tick, pause) {
        on_cleanup(move || {
            is_wanted.store(false, Ordering::Relaxed);
            handle.clear();
        });
    }
}

/// The moment as a person writes it: `2026-11-26 05:10 UTC`.
pub fn now_words() -> String {
    let moment = String::from(js_sys::Date::new_0().to_iso_string());
    format!("{} UTC", moment.get(..16).unwrap_or(&moment).replace('T', " "))
}
