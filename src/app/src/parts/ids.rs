//! Element ids that join a label, its input and its message.

use std::sync::atomic::{AtomicU32, Ordering};

/// The given id, or one that no other element has.
pub fn or_fresh(given: Option<String>) -> String {
    static NEXT: AtomicU32 = AtomicU32::new(1);
    given.unwrap_or_else(|| format!("part-{}", NEXT.fetch_add(1, Ordering::Relaxed)))
}
