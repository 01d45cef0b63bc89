//! Recordings of a flight as they come: time, voltage, current or charge used, perhaps altitude and speed, from any recorder.
//!
//! Fed in pieces of any size, so that a browser can yield between them. Delimiter (tab, semicolon, bar, comma, spaces),
//! decimal mark, titles and units, and the form of the time are found in the first lines; every column can be chosen by
//! hand. Rows out of order are put in order, recorders that started anew and counters that were reset are joined, repeated
//! titles are passed over, gaps are bridged by a straight line: each of it is told. Totals are taken from all rows; what is
//! kept for drawing is at most 2,000 of them, with every extreme of voltage and current.
//!
//! Totals: charge by the counter (sum of its rises, after a reset from zero), else ∫ I dt; energy ∫ V I dt, else ∫ V dq;
//! trapezoids. A value that is missing in a row holds from the row before.

mod cells;
mod clock;
mod detect;
mod message;
mod notes;
mod order;
mod reader;
mod reduce;
pub mod report;
mod settle;
mod signs;
mod totals;

pub use clock::TimeForm;
pub use detect::{Chosen, Detected, TraceColumns};
pub use notes::{TraceFault, TraceNote};
pub use reader::{TraceReader, look_at};
pub use reduce::MOST_POINTS;
pub use settle::Settling;

use serde::{Deserialize, Serialize};

/// One moment. What was not recorded is not a number.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TraceRow {
    /// Since the first row.
    pub time_s: f64,
    /// Volts.
    pub voltage_v: f64,
    /// Amperes.
    pub current_a: f64,
    /// By the recorder's counter.
    pub used_mah: f64,
    /// Metres.
    pub altitude_m: f64,
    /// Metres per second.
    pub speed_m_s: f64,
}

/// What a whole recording says.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct TraceTotals {
    /// Rows with a time and at least one figure.
    pub rows: usize,
    /// From the first row to the last.
    pub duration_s: f64,
    /// Charge used; none where neither a counter nor a current was recorded.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub used_mah: Option<f64>,
    /// The same from the current alone, to hold against the counter.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub used_by_current_mah: Option<f64>,
    /// Energy used.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub energy_wh: Option<f64>,
    /// Lowest voltage.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lowest_voltage_v: Option<f64>,
    /// Greatest current.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub greatest_current_a: Option<f64>,
}

/// A recording that was read to its end.
#[derive(Debug, Clone, PartialEq)]
pub struct Trace {
    /// From all rows.
    pub totals: TraceTotals,
    /// What was found in the first lines, or chosen.
    pub detected: Detected,
    /// What was not as it should be.
    pub notes: Vec<TraceNote>,
    /// For drawing: at most 2,000, in order.
    pub points: Vec<TraceRow>,
}

/// Reads a whole text at once.
///
/// # Errors
/// Why it is no recording.
pub fn read(bytes: &[u8], columns: Option<TraceColumns>) -> Result<Trace, TraceFault> {
    let mut reader = TraceReader::new(columns);
    reader.push(bytes);
    reader.finish()
}
