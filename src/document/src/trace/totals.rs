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

/// Totals; figures that no pack has are made nothing in the rows.
pub(super) fn totals(rows: &mut [TraceRow], notes: &mut Vec<TraceNote>) -> TraceTotals {
    let mut dropouts = 0;
    let mut sum = Sum::default();
    for row in rows.iter_mut() {
        if !row.voltage_v.is_nan() && !VOLTAGES.contains(&row.voltage_v) {
            row.voltage_v = f64::NAN;
            dropouts += 1;
        }
        if !row.current_a.is_nan() && !CURRENTS.contains(&row.current_a) {
            row.current_a = f64::NAN;
            dropouts += 1;
        }
        sum.take(row);
    }
    if dropouts > 0 {
        notes.push(TraceNote::Dropouts { values: dropouts });
    }
    if sum.resets > 0 {
        notes.push(TraceNote::CounterReset { times: sum.resets });
    }
    if let Some(from_mah) = sum.first_counter.filter(|first| *first > RESET_MAH) {
        notes.push(TraceNote::CounterRanBefore { from_mah });
    }
    let by_current = sum.last_current.map(|_| sum.charge_c / COULOMB_A_MAH);
    let by_counter = sum.first_counter.map(|_| sum.counted_mah);
    if let (Some(counter_mah), Some(current_mah)) = (by_counter, by_current)
        && (counter_mah - current_mah).abs() > DISAGREE * counter_mah.max(current_mah)
    {
        notes.push(TraceNote::CounterAgainstCurrent { counter_mah, current_mah });
    }
    let with_voltage = sum.lowest_v.is_some();
    let energy_j = match (by_current.is_some(), by_counter.is_some()) {
        (true, _) if with_voltage => Some(sum.energy_j),
        (false, true) if with_voltage => Some(sum.counter_energy_j),
        _ => None,
    };
    TraceTotals {
        rows: rows.len(),
        duration_s: rows.last().map_or(0.0, |row| row.time_s),
        used_mah: by_counter.or(by_current),
        used_by_current_mah: by_current,
        energy_wh: energy_j.map(|joules| joules / 3600.0),
        lowest_voltage_v: sum.lowest_v,
        greatest_current_a: by_current.map(|_| sum.greatest_a),
    }
}

#[derive(Default)]
struct Sum {
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
