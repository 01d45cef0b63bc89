//! The browser's small storage: texts under keys that are written at once, but reach the disk late. For what may be lost,
//! and for the last word of a page that is being left.

use core::fmt;

use gloo_storage::{LocalStorage, SessionStorage, Storage as _};
use wasm_bindgen::JsValue;

/// Why something could not be kept, or not be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum StorageFault {
    /// The browser gives no storage (private window, or switched off).
    NotThere,
    /// No room left.
    Full,
    /// It does not answer.
    Silent,
    /// Refused, in the browser's own words.
    Refused(String),
}

impl fmt::Display for StorageFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotThere => f.write_str(
                "this browser gives the page no storage (a private window, or storage is switched off)",
            ),
            Self::Full => f.write_str("the browser's storage for this page is full"),
            Self::Silent => f.write_str("the browser's storage does not answer"),
            Self::Refused(words) => write!(f, "the browser's storage refused ({words})"),
        }
    }
}

impl StorageFault {
    fn of(error: &JsValue) -> Self {
        let text = |name: &str| {
            let value = js_sys::Reflect::get(error, &name.into()).ok();
            value.and_then(|value| value.as_string()).unwrap_or_default()
        };
        Self::named(&text("name"), &text("message"))
    }

    /// By the name of the browser's error: only one of them means that there is no room.
    pub(super) fn named(name: &str, message: &str) -> Self {
        if name == "QuotaExceededError" || message.contains("QuotaExceeded") {
            Self::Full
        } else if name == "SecurityError" {
            Self::NotThere
        } else {
            Self::Refused(if name.is_empty() { message.to_owned() } else { format!("{name}: {message}") })
        }
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
/// `StorageFault`: it may be there or not.
pub fn get(key: &str) -> Result<Option<String>, StorageFault> {
    storage()?.get_item(key).map_err(|error| StorageFault::of(&error))
}

/// Keeps a text under a key.
///
/// # Errors
/// `StorageFault` without storage or room; the old text then stays.
pub fn set(key: &str, text: &str) -> Result<(), StorageFault> {
    storage()?.set_item(key, text).map_err(|error| StorageFault::of(&error))
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

fn of_tab() -> Option<web_sys::Storage> {
    let is_there = web_sys::window().is_some_and(|window| matches!(window.session_storage(), Ok(Some(_))));
    is_there.then(SessionStorage::raw)
}

/// The text that this tab alone keeps under a key until it is closed.
pub fn get_of_tab(key: &str) -> Option<String> {
    of_tab()?.get_item(key).ok().flatten()
}

/// Keeps a text for this tab alone, if the browser does.
pub fn set_of_tab(key: &str, text: &str) {
    if let Some(storage) = of_tab() {
        let _ = storage.set_item(key, text);
    }
}
