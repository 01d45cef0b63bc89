//! Element ids that join a label, its input and its message.

use std::sync::atomic::{AtomicU32, Ordering};

/// An id that no other element has.
pub fn fresh() -> String {
    static NEXT: AtomicU32 = AtomicU32::new(1);
    format!("part-{}", NEXT.fetch_add(1, Ordering::Relaxed))
}

/// The given id, or a fresh one.
pub fn or_fresh(given: Option<String>) -> String {
    given.unwrap_or_else(fresh)
}
