//! The end of a recording in steps: order, totals, points to draw; a browser breathes between them.

use super::detect::Detected;
use super::notes::TraceNote;
use super::order::ordered;
use super::reduce::Reducer;
use super::signs::Signs;
use super::totals::Sum;
use super::{Trace, TraceRow};

/// Rows in one step.
const A_STEP: usize = 40_000;

/// A recording that was read to its end and is being summed up.
#[derive(Debug)]
pub struct Settling {
    pub(super) detected: Detected,
    pub(super) rows: Vec<TraceRow>,
    pub(super) notes: Vec<TraceNote>,
    /// No time fell behind one before it.
    pub(super) is_in_order: bool,
    is_ordered: bool,
    /// Times are counted from here.
    start_s: f64,
    signs: Signs,
    sum: Sum,
    summed: usize,
    reducer: Option<Reducer>,
}

impl Settling {
    pub(super) fn new(
        detected: Detected,
        rows: Vec<TraceRow>,
        notes: Vec<TraceNote>,
        is_in_order: bool,
        signs: Signs,
    ) -> Self {
        let sum = Sum::new(detected.columns.used.is_none());
        Self {
            detected,
            rows,
            notes,
            is_in_order,
            is_ordered: false,
            start_s: 0.0,
            signs,
            sum,
            summed: 0,
            reducer: None,
        }
    }

    /// One step; false once nothing is left to do.
    pub fn step(&mut self) -> bool {
        if !self.is_ordered {
            ordered(&mut self.rows, self.is_in_order, &mut self.notes);
            self.is_ordered = true;
            self.start_s = self.rows.first().map_or(0.0, |row| row.time_s);
            self.signs.tell(&mut self.notes);
            return true;
        }
        if self.summed < self.rows.len() {
            let end = (self.summed + A_STEP).min(self.rows.len());
            for row in self.rows.get_mut(self.summed..end).unwrap_or_default() {
                row.time_s -= self.start_s;
                self.signs.turn(row);
                self.sum.look(row);
            }
            self.summed = end;
            return true;
        }
        self.reducer.get_or_insert_with(|| Reducer::new(&self.rows)).step(&self.rows, A_STEP)
    }

    /// What it says; every step left is taken.
    pub fn done(mut self) -> Trace {
        while self.step() {}
        let totals = self.sum.totals(&self.rows, &mut self.notes);
        let points = self.reducer.map(|reducer| reducer.points(&self.rows)).unwrap_or_default();
        Trace { totals, detected: self.detected, notes: self.notes, points }
    }
}
