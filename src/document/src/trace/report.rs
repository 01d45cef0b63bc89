//! What a recording says, as plain data: what the `trace` example prints.

use serde::Serialize;

use super::{Trace, TraceColumns, TraceTotals};

/// A recording in short.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[allow(missing_docs, reason = "each name says what it holds, with its unit")]
pub struct TraceReport {
    #[serde(flatten)]
    pub totals: TraceTotals,
    /// Title of each column that was found, by what it holds.
    pub columns: serde_json::Map<String, serde_json::Value>,
    pub delimiter: String,
    pub decimal_mark: &'static str,
    pub time_form: &'static str,
    /// Lines above the first row.
    pub lines_above: usize,
    pub points_kept: usize,
    pub faults: Vec<FaultReport>,
}

/// Something that was not as it should be.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[allow(missing_docs, reason = "each name says what it holds")]
pub struct FaultReport {
    pub kind: &'static str,
    pub words: String,
}

/// A recording in short.
pub fn report(trace: &Trace) -> TraceReport {
    let detected = &trace.detected;
    let title =
        |index: usize| serde_json::Value::from(detected.titles.get(index).cloned().unwrap_or_default());
    let TraceColumns { time, .. } = detected.columns;
    let mut columns = serde_json::Map::new();
    if let Some((index, _)) = time {
        columns.insert("time".to_owned(), title(index));
    }
    for (quantity, chosen) in detected.columns.figures() {
        if let Some(chosen) = chosen {
            columns.insert(quantity.to_owned(), title(chosen.column));
        }
    }
    TraceReport {
        totals: trace.totals.clone(),
        columns,
        delimiter: match detected.delimiter {
            '\t' => "tab".to_owned(),
            ' ' => "spaces".to_owned(),
            other => other.to_string(),
        },
        decimal_mark: if detected.decimal_comma { "," } else { "." },
        time_form: time.map_or("", |(_, form)| form.name()),
        lines_above: detected.lines_above,
        points_kept: trace.points.len(),
        faults: trace
            .notes
            .iter()
            .map(|note| FaultReport { kind: note.key(), words: note.to_string() })
            .collect(),
    }
}
