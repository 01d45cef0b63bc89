//! As few rows as a drawing needs, with every extreme in them.
//!
//! The time is cut into equal pieces; of each are kept the first row and those of the lowest and greatest voltage and
//! current. Nothing is averaged: each point was recorded.

use super::TraceRow;

/// Points that are kept at most.
pub const MOST_POINTS: usize = 2000;
const A_PIECE: usize = 5;

/// Chooses the rows to keep, piece by piece of the time.
#[derive(Debug)]
pub(super) struct Reducer {
    piece_s: f64,
    piece: usize,
    from: usize,
    kept: Vec<usize>,
}

/// One place is kept for the last row.
const PIECES: usize = (MOST_POINTS - 1) / A_PIECE;

impl Reducer {
    pub fn new(rows: &[TraceRow]) -> Self {
        let span_s = rows.last().zip(rows.first()).map_or(0.0, |(last, first)| last.time_s - first.time_s);
        let is_short = rows.len() <= MOST_POINTS;
        let kept = if is_short { (0..rows.len()).collect() } else { Vec::with_capacity(MOST_POINTS) };
        Self { piece_s: span_s / PIECES as f64, piece: if is_short { PIECES } else { 0 }, from: 0, kept }
    }

    /// Goes on for at least so many rows; false once all are seen.
    pub fn step(&mut self, rows: &[TraceRow], most: usize) -> bool {
        let start_s = rows.first().map_or(0.0, |row| row.time_s);
        let until = self.from + most;
        while self.piece < PIECES && self.from < until {
            self.piece += 1;
            let end_s = start_s + self.piece as f64 * self.piece_s;
            let left = rows.get(self.from..).unwrap_or_default();
            let is_last = self.piece == PIECES;
            let length = if is_last { left.len() } else { left.partition_point(|row| row.time_s < end_s) };
            keep(left.get(..length).unwrap_or_default(), self.from, &mut self.kept);
            self.from += length;
        }
        self.piece < PIECES
    }

    /// The rows that are kept, in order, the last one among them.
    pub fn points(mut self, rows: &[TraceRow]) -> Vec<TraceRow> {
        let last = rows.len().checked_sub(1);
        if self.kept.last().copied() != last {
            self.kept.extend(last);
        }
        self.kept.into_iter().filter_map(|place| rows.get(place).copied()).collect()
    }
}

fn keep(part: &[TraceRow], from: usize, kept: &mut Vec<usize>) {
    if part.is_empty() {
        return;
    }
    let place_of = |value: fn(&TraceRow) -> f64, greatest: bool| {
        let numbers = part.iter().enumerate().filter(|(_, row)| !value(row).is_nan());
        let by_value =
            |one: &(usize, &TraceRow), other: &(usize, &TraceRow)| value(one.1).total_cmp(&value(other.1));
        let found = if greatest { numbers.max_by(by_value) } else { numbers.min_by(by_value) };
        found.map(|(place, _)| place)
    };
    let mut places = vec![0];
    places.extend(
        [
            place_of(|row| row.voltage_v, false),
            place_of(|row| row.voltage_v, true),
            place_of(|row| row.current_a, false),
            place_of(|row| row.current_a, true),
        ]
        .into_iter()
        .flatten(),
    );
    places.sort_unstable();
    places.dedup();
    kept.extend(places.into_iter().map(|place| from + place));
}
