//! What one browser keeps between visits: the bundle, which setup is open, and how figures are shown.
//!
//! It is one text, so that it is kept whole or not at all. The bundle inside carries the only schema number.

mod bench_rows;
mod history;
mod keep;
mod mass_slider;
pub mod overlay;

pub use bench_rows::bench_rows;
pub use history::History;
pub use keep::{change, keep};
pub use mass_slider::MassSlider;

use serde_json::{Value, json};

use crate::error::DocumentError;
use crate::model::Bundle;
use crate::open::{self, BrokenRecord};
use crate::present::Units;

/// What one browser keeps.
#[derive(Debug, Clone, PartialEq)]
pub struct Workspace {
    /// When it was written, milliseconds since 1970: a tab knows by it whether another one wrote later.
    pub stamp_ms: f64,
    /// The setup that is open; may be gone.
    pub selected: String,
    /// How figures are shown.
    pub units: Units,
    /// The crew's data.
    pub bundle: Bundle,
    /// Records that could not be read, kept until the crew lets them go.
    pub broken: Vec<BrokenRecord>,
}

impl Workspace {
    /// As one text.
    ///
    /// # Errors
    /// `TooLarge` beyond what can be read again, `Refused` for a number that JSON cannot hold.
    pub fn write(&self) -> Result<String, DocumentError> {
        let kept = json!({
            "stamp_ms": self.stamp_ms,
            "selected": self.selected,
            "units": self.units.write(),
            "bundle": open::to_value(&self.bundle)?,
            "broken": self.broken,
        });
        let text = kept.to_string();
        if text.len() > open::LARGEST_FILE_BYTES {
            return Err(DocumentError::TooLarge { bytes: text.len(), most: open::LARGEST_FILE_BYTES });
        }
        Ok(text)
    }

    /// From a text written by this or an earlier version. Every record that is whole is read.
    ///
    /// Choices of view that cannot be read fall back to the usual ones: they are no data.
    ///
    /// # Errors
    /// Where there is no bundle in it at all.
    pub fn read(text: &str) -> Result<Self, DocumentError> {
        let kept: Value = serde_json::from_str(text).map_err(|error| DocumentError::NotJson {
            line: error.line(),
            column: error.column(),
            reason: error.to_string(),
        })?;
        let opened = open::open(&kept["bundle"].to_string())?;
        let selected = kept["selected"].as_str().unwrap_or_default().to_owned();
        let stamp_ms = kept["stamp_ms"].as_f64().unwrap_or_default();
        let units = Units::read(&kept["units"]).unwrap_or_default();
        let mut broken: Vec<BrokenRecord> =
            serde_json::from_value(kept["broken"].clone()).unwrap_or_default();
        broken.extend(opened.broken);
        Ok(Self { stamp_ms, selected, units, bundle: opened.bundle, broken })
    }

    /// When a kept text was written, without reading all of it as a workspace.
    pub fn stamp_of(text: &str) -> Option<f64> {
        serde_json::from_str::<Value>(text).ok()?.get("stamp_ms")?.as_f64()
    }
}

/// The id that is open: the wanted one if it is there, else the first.
pub fn open_setup(bundle: &Bundle, wanted: &str) -> Option<String> {
    let wanted = bundle.setups.iter().find(|setup| setup.id == wanted);
    wanted.or_else(|| bundle.setups.first()).map(|setup| setup.id.clone())
}
