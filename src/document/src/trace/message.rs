//! A recording as one thread hands it to another.

use serde::{Deserialize, Serialize};

use super::{Detected, Trace, TraceNote, TraceRow, TraceTotals};

/// The same as `Trace`, with none for what is not a number: JSON has no word for it.
#[derive(Serialize, Deserialize)]
struct Message {
    totals: TraceTotals,
    detected: Detected,
    notes: Vec<TraceNote>,
    points: Vec<[Option<f64>; 6]>,
}

impl Trace {
    /// As a text; none where it cannot be written.
    pub fn into_message(self) -> Option<String> {
        let cells = |row: TraceRow| {
            [row.time_s, row.voltage_v, row.current_a, row.used_mah, row.altitude_m, row.speed_m_s]
                .map(|figure| Some(figure).filter(|figure| figure.is_finite()))
        };
        let message = Message {
            totals: self.totals,
            detected: self.detected,
            notes: self.notes,
            points: self.points.into_iter().map(cells).collect(),
        };
        serde_json::to_string(&message).ok()
    }

    /// From such a text; none where it is not one.
    pub fn from_message(text: &str) -> Option<Self> {
        let Message { totals, detected, notes, points } = serde_json::from_str(text).ok()?;
        let row = |cells: [Option<f64>; 6]| {
            let [time_s, voltage_v, current_a, used_mah, altitude_m, speed_m_s] =
                cells.map(|figure| figure.unwrap_or(f64::NAN));
            TraceRow { time_s, voltage_v, current_a, used_mah, altitude_m, speed_m_s }
        };
        Some(Self { totals, detected, notes, points: points.into_iter().map(row).collect() })
    }
}
