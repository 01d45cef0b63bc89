//! A run as plain numbers, and what a cell would have shown in its place.

use super::{RUN_CURRENT, RUN_INTERVAL, RUN_POINTS, RUN_START, RUN_VOLTAGE, Run, RunPoint};
use crate::cell::behaviour::CellBehaviour;
use crate::cell::open_circuit;
use crate::cell::params::{CellParams, Chemistry};
use crate::input_error::InputError;

pub(super) struct Point {
    /// Since the point before.
    pub interval_s: f64,
    pub current_a: f64,
    pub voltage_v: f64,
    pub state_of_charge: f64,
}

/// With the charge already counted.
pub(super) struct MeasuredRun {
    pub points: Vec<Point>,
    chemistry: Chemistry,
    /// Current that empties the cell in an hour.
    pub one_c_a: f64,
}

impl MeasuredRun {
    pub fn of(run: &Run) -> Result<Self, InputError> {
        RUN_POINTS.check(run.points.len() as f64)?;
        let capacity_c = CellParams::CAPACITY.check(run.capacity.value)?;
        let mut state_of_charge = RUN_START.check(run.start.value)?;
        let mut points: Vec<Point> = Vec::with_capacity(run.points.len());
        let mut before: Option<&RunPoint> = None;
        for point in &run.points {
            let current_a = RUN_CURRENT.check(point.current.value)?;
            let mut interval_s = 0.0;
            if let Some(before) = before {
                interval_s = RUN_INTERVAL.check(point.time.value - before.time.value)?;
                state_of_charge -= 0.5 * (current_a + before.current.value) * interval_s / capacity_c;
            }
            before = Some(point);
            points.push(Point {
                interval_s,
                current_a,
                voltage_v: RUN_VOLTAGE.check(point.voltage.value)?,
                state_of_charge,
            });
        }
        Ok(Self { points, chemistry: run.chemistry, one_c_a: capacity_c / 3600.0 })
    }

    /// Mean power, each moment by the charge it takes; none without a discharge.
    pub fn mean_power_w(&self) -> Option<f64> {
        let (mut power, mut charge) = (0.0, 0.0);
        for pair in self.points.windows(2) {
            let taken_c = 0.5 * (pair[0].current_a + pair[1].current_a).max(0.0) * pair[1].interval_s;
            let power_w =
                0.5 * (pair[0].current_a * pair[0].voltage_v + pair[1].current_a * pair[1].voltage_v);
            power += taken_c * power_w;
            charge += taken_c;
        }
        (power > 0.0 && charge > 0.0).then(|| power / charge)
    }

    /// By the chemistry's curve.
    pub fn open_circuit_v(&self, point: &Point) -> f64 {
        open_circuit::value(self.chemistry.curve(), open_circuit::place(point.state_of_charge))
    }

    pub fn voltages(&self, resistance_ohm: f64, behaviour: &CellBehaviour) -> Vec<f64> {
        let ohmic_ohm = resistance_ohm * behaviour.ohmic_share.value;
        let slow_ohm = resistance_ohm - ohmic_ohm;
        let shift_per_a = behaviour.low_charge_shift.value / self.one_c_a;
        let bend_h = behaviour.charge_transfer_bend.value;
        let curve = behaviour.curve_of(self.chemistry);
        let (mut slow_v, mut slow_a, mut before_a, mut before_rise) = (0.0, 0.0, 0.0, 1.0);
        let mut voltages = Vec::with_capacity(self.points.len());
        for point in &self.points {
            let kept = (-point.interval_s / behaviour.time_constant.value).exp();
            let mean_a = 0.5 * (point.current_a + before_a);
            slow_a = mean_a + (slow_a - mean_a) * kept;
            let rise = behaviour.resistance_by_charge(point.state_of_charge - shift_per_a * slow_a);
            let bent = CellBehaviour::bent(bend_h, mean_a / self.one_c_a);
            let settled_v = 0.5 * mean_a * bent * (rise + before_rise) * slow_ohm;
            slow_v = settled_v + (slow_v - settled_v) * kept;
            let emf_v = open_circuit::value(&curve, open_circuit::place(point.state_of_charge));
            voltages.push(emf_v - slow_v - point.current_a * ohmic_ohm * rise);
            (before_a, before_rise) = (point.current_a, rise);
        }
        voltages
    }
}
