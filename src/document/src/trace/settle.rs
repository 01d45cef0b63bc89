//! The end of a recording in steps: order, totals, points to draw; a browser breathes between them.

use super::detect::Detected;
use super::notes::TraceNote;
use super::order::ordered;
use super::reduce::Reducer;
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
    is_upright: bool,
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
    ) -> Self {
        let sum = Sum::new(detected.columns.used.is_none());
        Self {
            detected,
            rows,
            notes,
            is_in_order,
            is_ordered: false,
            is_upright: false,
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
            return true;
        }
        if !self.is_upright {
            upright(&mut self.rows, &mut self.notes);
            self.is_upright = true;
            return true;
        }
        if self.summed < self.rows.len() {
            let end = (self.summed + A_STEP).min(self.rows.len());
            for row in self.rows.get_mut(self.summed..end).unwrap_or_default() {
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

/// Some recorders write discharge as a negative current, or count down what is left.
fn upright(rows: &mut [TraceRow], notes: &mut Vec<TraceNote>) {
    let (mut sum_a, mut first, mut last, mut climbs) = (0.0, None::<f64>, f64::NAN, 0_i64);
    for row in &*rows {
        if row.current_a.is_finite() {
            sum_a += row.current_a;
        }
        if row.used_mah.is_finite() {
            first = first.or(Some(row.used_mah));
            climbs += i64::from(row.used_mah > last) - i64::from(row.used_mah < last);
            last = row.used_mah;
        }
    }
    let first_mah = first.filter(|_| climbs < 0);
    if sum_a < 0.0 {
        notes.push(TraceNote::NegativeCurrent);
    }
    if first_mah.is_some() {
        notes.push(TraceNote::CountsDown);
    }
    for row in rows {
        if sum_a < 0.0 {
            row.current_a = -row.current_a;
        }
        if let Some(first_mah) = first_mah {
            row.used_mah = first_mah - row.used_mah;
        }
    }
}
