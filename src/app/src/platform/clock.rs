//! The wall clock.

/// Milliseconds since 1970, UTC.
pub fn now_ms() -> f64 {
    js_sys::Date::now()
}
