//! The browser's storage: texts under keys, kept over reloads and power loss.
//!
//! Setting one key is atomic: on failure the old text stays.

use core::fmt;

use gloo_storage::{LocalStorage, Storage as _};
use leptos::prelude::window_event_listener_untyped;
use wasm_bindgen::JsCast;

/// Why a text could not be kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StorageFault {
    /// The browser gives no storage (private window, or switched off).
    NotThere,
    /// No room left.
    Full,
    /// More than could be read again.
    TooLarge,
}

impl fmt::Display for StorageFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::NotThere => {
                "this browser gives the page no storage (a private window, or storage is switched off)"
            }
            Self::Full => "the browser's storage for this page is full",
            Self::TooLarge => "there is more data than this app can read again",
        })
    }
}

fn storage() -> Result<web_sys::Storage, StorageFault> {
    // The library takes a storage for granted: asked first, it may be refused.
    let is_there = web_sys::window().is_some_and(|window| matches!(window.local_storage(), Ok(Some(_))));
    is_there.then(LocalStorage::raw).ok_or(StorageFault::NotThere)
}

/// The text under a key.
///
/// # Errors
/// `StorageFault::NotThere` without storage.
pub fn get(key: &str) -> Result<Option<String>, StorageFault> {
    storage()?.get_item(key).map_err(|_| StorageFault::NotThere)
}

/// Keeps a text under a key.
///
/// # Errors
/// `StorageFault` without storage or room; the old text then stays.
pub fn set(key: &str, text: &str) -> Result<(), StorageFault> {
    storage()?.set_item(key, text).map_err(|_| StorageFault::Full)
}

/// Forgets a key.
pub fn remove(key: &str) {
    if let Ok(storage) = storage() {
        let _ = storage.remove_item(key);
    }
}

/// The keys that begin so.
pub fn keys_beginning(prefix: &str) -> Vec<String> {
    let Ok(storage) = storage() else { return Vec::new() };
    let count = storage.length().unwrap_or_default();
    let keys = (0..count).filter_map(|index| storage.key(index).ok().flatten());
    keys.filter(|key| key.starts_with(prefix)).collect()
}

/// Calls `told` whenever another tab changes the text under `key`.
pub fn on_change_elsewhere(key: &'static str, told: impl Fn(Option<String>) + 'static) {
    window_event_listener_untyped("storage", move |event| {
        if let Some(event) = event.dyn_ref::<web_sys::StorageEvent>()
            && event.key().as_deref() == Some(key)
        {
            told(event.new_value());
        }
    });
}
