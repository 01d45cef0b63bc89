//! Totals from every row.

use super::notes::TraceNote;
use super::{TraceRow, TraceTotals};

/// A counter that falls by more than so much was reset.
const RESET_MAH: f64 = 5.0;
/// Beyond these no pack is meant here.
const VOLTAGES: core::ops::RangeInclusive<f64> = 1.0..=1000.0;
const CURRENTS: core::ops::RangeInclusive<f64> = -200.0..=5000.0;
/// Counter and current are told apart from so much on.
const DISAGREE: f64 = 0.05;
const COULOMB_A_MAH: f64 = 3.6;

/// What is summed up so far.
#[derive(Debug, Default)]
pub(super) struct Sum {
    fills_used: bool,
    dropouts: usize,
    last_s: Option<f64>,
    last_voltage: Option<f64>,
    last_current: Option<f64>,
    last_counter: Option<f64>,
    first_counter: Option<f64>,
    resets: usize,
    counted_mah: f64,
    charge_c: f64,
    energy_j: f64,
    counter_energy_j: f64,
    lowest_v: Option<f64>,
    greatest_a: f64,
}

impl Sum {
    /// Nothing yet. Without a counter the charge by the current stands in for it in the rows.
    pub fn new(fills_used: bool) -> Self {
        Self { fills_used, ..Self::default() }
    }

    /// Takes a row in; figures that no pack has are made nothing in it.
    pub fn look(&mut self, row: &mut TraceRow) {
        if !row.voltage_v.is_nan() && !VOLTAGES.contains(&row.voltage_v) {
            row.voltage_v = f64::NAN;
            self.dropouts += 1;
        }
        if !row.current_a.is_nan() && !CURRENTS.contains(&row.current_a) {
            row.current_a = f64::NAN;
            self.dropouts += 1;
        }
        self.take(row);
        if self.fills_used && self.last_current.is_some() {
            row.used_mah = self.charge_c / COULOMB_A_MAH;
        }
    }

    /// What the rows that were taken in say.
    pub fn totals(&self, rows: &[TraceRow], notes: &mut Vec<TraceNote>) -> TraceTotals {
        if self.dropouts > 0 {
            notes.push(TraceNote::Dropouts { values: self.dropouts });
        }
        if self.resets > 0 {
            notes.push(TraceNote::CounterReset { times: self.resets });
        }
        if let Some(from_mah) = self.first_counter.filter(|first| *first > RESET_MAH) {
            notes.push(TraceNote::CounterRanBefore { from_mah });
        }
        let by_current = self.last_current.map(|_| self.charge_c / COULOMB_A_MAH);
        let by_counter = self.first_counter.map(|_| self.counted_mah);
        if let (Some(counter_mah), Some(current_mah)) = (by_counter, by_current)
            && (counter_mah - current_mah).abs() > DISAGREE * counter_mah.max(current_mah)
        {
            notes.push(TraceNote::CounterAgainstCurrent { counter_mah, current_mah });
        }
        let with_voltage = self.lowest_v.is_some();
        let energy_j = match (by_current.is_some(), by_counter.is_some()) {
            (true, _) if with_voltage => Some(self.energy_j),
            (false, true) if with_voltage => Some(self.counter_energy_j),
            _ => None,
        };
        TraceTotals {
            rows: rows.len(),
            duration_s: rows.last().map_or(0.0, |row| row.time_s),
            used_mah: by_counter.or(by_current),
            used_by_current_mah: by_current,
            energy_wh: energy_j.map(|joules| joules / 3600.0),
            lowest_voltage_v: self.lowest_v,
            greatest_current_a: by_current.map(|_| self.greatest_a),
        }
    }

    fn take(&mut self, row: &TraceRow) {
        let seen = |value: f64, last: Option<f64>| if value.is_nan() { last } else { Some(value) };
        let voltage = seen(row.voltage_v, self.last_voltage);
        let current = seen(row.current_a, self.last_current);
        let step_s = self.last_s.map_or(0.0, |last| row.time_s - last);
        if let Some(now_a) = current {
            let before_a = self.last_current.unwrap_or(now_a);
            let now_v = voltage.unwrap_or_default();
            let before_v = self.last_voltage.unwrap_or(now_v);
            self.charge_c += 0.5 * (now_a + before_a) * step_s;
            self.energy_j += 0.5 * (now_a * now_v + before_a * before_v) * step_s;
        }
        if !row.used_mah.is_nan() {
            self.count(row.used_mah, voltage);
        }
        if !row.voltage_v.is_nan() {
            self.lowest_v = Some(self.lowest_v.map_or(row.voltage_v, |lowest| lowest.min(row.voltage_v)));
        }
        if !row.current_a.is_nan() {
            self.greatest_a = self.greatest_a.max(row.current_a);
        }
        (self.last_s, self.last_voltage, self.last_current) = (Some(row.time_s), voltage, current);
    }

    fn count(&mut self, shown_mah: f64, voltage: Option<f64>) {
        let last = *self.last_counter.get_or_insert(shown_mah);
        self.first_counter.get_or_insert(shown_mah);
        let rise = if shown_mah < last - RESET_MAH {
            self.resets += 1;
            shown_mah
        } else {
            (shown_mah - last).max(0.0)
        };
        self.counted_mah += rise;
        self.counter_energy_j += rise * COULOMB_A_MAH * voltage.unwrap_or_default();
        // A counter that trembles must not count its tremble.
        self.last_counter = Some(if shown_mah < last - RESET_MAH { shown_mah } else { shown_mah.max(last) });
    }
}
