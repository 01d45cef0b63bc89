//! As few rows as a drawing needs, with every extreme in them.
//!
//! The time is cut into equal pieces; of each are kept the first row and those of the lowest and greatest voltage and
//! current. Nothing is averaged: each point was recorded.

use super::TraceRow;

/// Points that are kept at most.
pub const MOST_POINTS: usize = 2000;
const A_PIECE: usize = 5;

/// The rows to keep, in order.
pub(super) fn reduced(rows: &[TraceRow]) -> Vec<TraceRow> {
    let (Some(first), Some(last)) = (rows.first(), rows.last()) else { return Vec::new() };
    if rows.len() <= MOST_POINTS {
        return rows.to_vec();
    }
    // One place is kept for the last row.
    let pieces = (MOST_POINTS - 1) / A_PIECE;
    let piece_s = (last.time_s - first.time_s) / pieces as f64;
    let mut kept = Vec::with_capacity(MOST_POINTS);
    let mut from = 0;
    for piece in 1..=pieces {
        let end_s = first.time_s + piece as f64 * piece_s;
        let left = rows.get(from..).unwrap_or_default();
        let length =
            if piece == pieces { left.len() } else { left.partition_point(|row| row.time_s < end_s) };
        let part = left.get(..length).unwrap_or_default();
        keep(part, from, &mut kept);
        from += length;
    }
    if kept.last() != Some(&(rows.len() - 1)) {
        kept.push(rows.len() - 1);
    }
    kept.into_iter().filter_map(|place| rows.get(place).copied()).collect()
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
