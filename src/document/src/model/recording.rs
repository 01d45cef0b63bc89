//! A recording of a flight, kept for drawing: at most 2,000 of its rows, with every extreme in them.

use std::sync::Arc;

use serde::{Deserialize, Serialize};

use super::{Extra, parts};
use crate::trace::{MOST_POINTS, TraceRow};

/// A recording; what all its rows come to stands in its flight (`Flight::recording`).
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Recording {
    /// Reference.
    pub id: String,
    /// Shown name: that of the file.
    pub name: String,
    /// Flight id.
    pub flight: String,
    /// Its rows.
    pub points: Points,
    /// Of a later version.
    #[serde(flatten)]
    pub extra: Extra,
}

parts!(Recording {});

/// Rows as one text, shared by all copies in memory: rows divided by `;`, cells by `,`, empty where nothing was recorded,
/// in the order of `SCALES`, each the whole number of its steps less that of the last row which has one.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(from = "String", into = "String")]
pub struct Points(Arc<str>);

impl From<String> for Points {
    fn from(text: String) -> Self {
        Self(Arc::from(text))
    }
}

impl From<Points> for String {
    fn from(points: Points) -> Self {
        Self::from(&*points.0)
    }
}

impl Default for Points {
    fn default() -> Self {
        Self(Arc::from(""))
    }
}

/// Steps in one: milliseconds, millivolts, hundredths of an ampere, mAh, tenths of metres and of metres a second.
const SCALES: [f64; 6] = [1000.0, 1000.0, 100.0, 1.0, 10.0, 10.0];

impl Points {
    /// Of rows in order.
    pub fn of(rows: &[TraceRow]) -> Self {
        let mut last = [0_i64; 6];
        let rows: Vec<String> = rows.iter().take(MOST_POINTS).map(|row| packed(row, &mut last)).collect();
        Self(Arc::from(rows.join(";")))
    }

    /// The rows; one without a time is passed over, a cell that is no number is nothing.
    pub fn rows(&self) -> Vec<TraceRow> {
        let mut last = [0_i64; 6];
        let rows = self.0.split(';').take(MOST_POINTS);
        rows.map(|row| unpacked(row, &mut last)).filter(|row| row.time_s.is_finite()).collect()
    }
}

fn packed(row: &TraceRow, last: &mut [i64; 6]) -> String {
    let values = [row.time_s, row.voltage_v, row.current_a, row.used_mah, row.altitude_m, row.speed_m_s];
    let mut cells = Vec::with_capacity(values.len());
    for ((value, scale), last) in values.into_iter().zip(SCALES).zip(last) {
        if !value.is_finite() {
            cells.push(String::new());
            continue;
        }
        let steps = (value * scale).round() as i64;
        cells.push(steps.saturating_sub(*last).to_string());
        *last = steps;
    }
    cells.join(",").trim_end_matches(',').to_owned()
}

fn unpacked(row: &str, last: &mut [i64; 6]) -> TraceRow {
    let mut values = [f64::NAN; 6];
    for (((cell, value), scale), last) in row.split(',').zip(&mut values).zip(SCALES).zip(last) {
        if let Ok(steps) = cell.parse::<i64>() {
            *last = last.saturating_add(steps);
            *value = *last as f64 / scale;
        }
    }
    let [time_s, voltage_v, current_a, used_mah, altitude_m, speed_m_s] = values;
    TraceRow { time_s, voltage_v, current_a, used_mah, altitude_m, speed_m_s }
}
