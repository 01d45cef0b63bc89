//! Setups side by side, difference first: what was entered differently, then what it comes to; what is the same waits.
//!
//! Figures are those of each setup's own card at its own site: the same samples, the same rounding. A row differs where its
//! words differ, as nobody sees more than the words.

mod figures;
mod inputs;

pub use figures::ColumnFigures;

use crate::error::DocumentError;
use crate::model::{Bundle, Setup};
use crate::present::Units;
use crate::record::Record;

/// One setup in the comparison.
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    /// Setup id.
    pub setup: String,
    /// What it comes to; none while it is worked out.
    pub figures: Option<Result<ColumnFigures, DocumentError>>,
}

/// A row: one thing, a cell a setup.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CompareRow {
    /// Its stable name.
    pub key: String,
    /// Its name for people.
    pub name: String,
    /// What stands in each column.
    pub cells: Vec<String>,
    /// Which of the cells is best for the flight; none is where nothing differs, or where neither side is better.
    pub best: Vec<bool>,
    /// Whether it stands with the differences: it differs, or it is part of the answer itself.
    pub leads: bool,
}

impl CompareRow {
    /// A row of which no cell is better than another.
    fn new(key: impl Into<String>, name: impl Into<String>, cells: Vec<String>) -> Self {
        let leads = cells.windows(2).any(|pair| pair.first() != pair.last());
        Self { key: key.into(), name: name.into(), best: vec![false; cells.len()], leads, cells }
    }
}

/// All rows: inputs, then figures, each part in the order of the screens.
pub fn compare(bundle: &Bundle, columns: &[Column], units: Units) -> Vec<CompareRow> {
    let setups: Vec<&Setup> = columns
        .iter()
        .filter_map(|column| Setup::find(bundle, &column.setup))
        .map(|(_, setup)| setup)
        .collect();
    // A setup that is gone has no column any more: the caller drops it.
    if setups.len() != columns.len() {
        return Vec::new();
    }
    let mut rows = inputs::rows(bundle, &setups, units);
    rows.extend(figures::rows(columns, units));
    rows
}

/// The setups to begin with: the open one and its neighbour in the list, one of the same airframe before any other.
pub fn begin_with(bundle: &Bundle, open: &str) -> Vec<String> {
    let Some((place, own)) = Setup::find(bundle, open) else { return Vec::new() };
    let after = bundle.setups.iter().skip(place + 1);
    let others = || after.clone().chain(bundle.setups.iter().take(place));
    let alike = others().find(|other| other.airframe == own.airframe).or_else(|| others().next());
    [Some(own), alike].into_iter().flatten().map(|setup| setup.id.clone()).collect()
}
