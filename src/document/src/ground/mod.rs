//! The charging table and the day, asked natively: the formats of the `match`, `join` and `day` examples, and what both they and
//! the screens say of a day.
//!
//! The formats stand at the three modules. Numbers have the units of the crew's own file, named in the field; unknown fields are
//! refused.

mod bundle_day;
pub mod calendar;
pub mod cell_entry;
pub mod clock;
mod day_asked;
pub mod day_lanes;
mod day_report;
mod joining;
pub mod landing;
mod matching;
mod pack_asked;
pub mod pack_csv;
pub mod register;
pub mod setup_packs;

pub(crate) use bundle_day::frame;
pub use bundle_day::{DayKind, SetupFlight, kinds, planned, set_count, setup_flight};
pub use day_asked::day;
pub use day_report::{DayReport, EventReport, PlannedDay, StallReport};
pub use joining::join;
pub use matching::match_packs;
pub(crate) use pack_asked::charger_on;

use liftmargin_core::input_error::InputError;
use serde::de::DeserializeOwned;
use serde_json::Value;

use crate::error::DocumentError;
use crate::quantity::refused;
use crate::shape;

/// A text as what is asked.
fn asked<T: DeserializeOwned>(text: &str) -> Result<T, DocumentError> {
    let value: Value = serde_json::from_str(text).map_err(|error| DocumentError::NotJson {
        line: error.line(),
        column: error.column(),
        reason: error.to_string(),
    })?;
    shape::read("", &value)
}

/// A refusal of core with the value that it is about.
fn of_core(refusal: InputError) -> DocumentError {
    match refusal {
        InputError::OutOfRange { .. } => refused("", refusal),
        other => DocumentError::of_core(other),
    }
}

/// Answers as JSON, tidied by nobody.
fn plain(answer: impl serde::Serialize) -> Value {
    serde_json::to_value(answer).unwrap_or_default()
}
