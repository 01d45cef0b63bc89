//! What may be lost: how figures are shown, which setup is open, when a file was exported.

use gloo_storage::{LocalStorage, Storage as _};
use liftmargin_document::present::Units;
use serde_json::{Value, json};

use super::keys;
use crate::platform::storage;

/// What may be lost.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct ViewState {
    /// How figures are shown.
    pub units: Units,
    /// The setup that was open last.
    pub selected: String,
    /// When the crew first changed something after the last export, milliseconds since 1970.
    pub unexported_since_ms: Option<f64>,
}

impl ViewState {
    pub(super) fn read() -> Self {
        // The library takes a storage for granted.
        if storage::get(keys::VIEW).is_err() {
            return Self::default();
        }
        let kept: Value = LocalStorage::get(keys::VIEW).unwrap_or_default();
        let selected = kept["selected"].as_str().unwrap_or_default().to_owned();
        Self {
            units: Units::read(&kept["units"]).unwrap_or_default(),
            selected: storage::get_of_tab(keys::OPEN).unwrap_or(selected),
            unexported_since_ms: kept["unexported_since_ms"].as_f64(),
        }
    }

    pub(super) fn write(&self) {
        storage::set_of_tab(keys::OPEN, &self.selected);
        let kept = json!({
            "units": self.units.write(),
            "selected": self.selected,
            "unexported_since_ms": self.unexported_since_ms,
        });
        let _ = storage::set(keys::VIEW, &kept.to_string());
    }
}
