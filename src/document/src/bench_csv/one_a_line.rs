//! A table with one cell a line, as some readers copy it: titles first and row by row, or each column under its title.

use super::cutting::Line;
use super::figures::{is_blank, is_figure, is_unit};
use super::lay_out::{Laid, left_out, turned};
use super::titles::{Quantity, belongs, quantity};
use super::{BenchCsvError, SheetRow};

/// Fewer are no table: volts, amperes, thrust.
const FEWEST_COLUMNS: usize = 3;
/// A title has no more words.
const MOST_WORDS: usize = 4;

/// Puts cells that stand one a line under their titles.
pub(super) fn one_a_line(lines: &[Line]) -> Laid {
    let cells: Vec<(u64, &str)> =
        lines.iter().filter_map(|line| line.cells.first().map(|cell| (line.number, cell.as_str()))).collect();
    if let Some(laid) = columns_one_by_one(&cells) {
        return laid;
    }
    let nothing = || Laid { left_out: lines.iter().map(left_out).collect(), ..Laid::default() };
    let is_title = |cell: &str| {
        !is_figure(cell)
            && (is_unit(cell) || quantity(cell).is_some())
            && cell.split_whitespace().count() <= MOST_WORDS
    };
    let Some(first) = cells.iter().position(|(_, cell)| is_figure(cell)) else { return nothing() };
    let titles =
        cells.get(..first).unwrap_or_default().iter().rev().take_while(|(_, cell)| is_title(cell)).count();
    let mut headers: Vec<String> = Vec::new();
    for (_, cell) in cells.get(first - titles..first).unwrap_or_default() {
        match headers.last_mut() {
            Some(title) if belongs(cell, title) => *title = format!("{title} {cell}"),
            _ => headers.push((*cell).to_owned()),
        }
    }
    let last = cells.iter().rposition(|(_, cell)| is_figure(cell)).unwrap_or(first);
    // Names are printed once for many rows: they are no part of a row here. Any other word there is a damaged figure.
    let named = headers.iter().any(|title| quantity(title) == Some(Quantity::Name));
    let body = cells.get(first..=last).unwrap_or_default();
    let damaged = !named && body.iter().any(|(_, cell)| !is_figure(cell) && !is_blank(cell));
    headers.retain(|title| quantity(title) != Some(Quantity::Name));
    let figures: Vec<(u64, &str)> =
        body.iter().filter(|(_, cell)| is_figure(cell) || is_blank(cell)).copied().collect();
    let columns = headers.len();
    if columns < FEWEST_COLUMNS {
        return nothing();
    }
    let fault = (damaged || !figures.len().is_multiple_of(columns))
        .then_some(BenchCsvError::CellsOver { cells: figures.len(), columns });
    let row = |cells: &[(u64, &str)]| SheetRow {
        line: cells.first().map_or(0, |(line, _)| *line),
        cells: cells.iter().map(|(_, cell)| (*cell).to_owned()).collect(),
    };
    let outside = |line: &&Line| {
        line.cells.first().is_some_and(|cell| !is_figure(cell) && !is_blank(cell) && !is_title(cell))
    };
    Laid {
        rows: if fault.is_none() { figures.chunks(columns).map(row).collect() } else { Vec::new() },
        left_out: lines.iter().filter(outside).map(left_out).collect(),
        headers,
        fault,
        ..Laid::default()
    }
}

/// Each title with its figures below it.
fn columns_one_by_one(cells: &[(u64, &str)]) -> Option<Laid> {
    let mut series: Vec<Line> = Vec::new();
    for (line, cell) in cells {
        match series.last_mut() {
            Some(last) if is_figure(cell) || is_blank(cell) || (last.cells.len() == 1 && is_unit(cell)) => {
                if is_unit(cell) && !is_figure(cell) && last.cells.len() == 1 {
                    if let Some(title) = last.cells.first_mut() {
                        *title = format!("{title} {cell}");
                    }
                } else {
                    last.cells.push((*cell).to_owned());
                }
            }
            _ => series.push(Line { number: *line, cells: vec![(*cell).to_owned()], places: Vec::new() }),
        }
    }
    turned(&series)
}
