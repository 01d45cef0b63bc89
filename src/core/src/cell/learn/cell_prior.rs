//! What is known of a cell before a run: middle and one standard deviation of each value that is learned.
//!
//! Source: middles and spreads were chosen on runs of two cells, Ai et al. 2020 and Chen et al. 2020 (PyBaMM DFN,
//! `tests/references/cell_rates`): in-sample there, held out on the other cells of that folder.

use uom::si::ratio::ratio;
use uom::si::time::second;

use super::measured_run::MeasuredRun;
use crate::cell::behaviour::{CellBehaviour, CurveError};
use crate::cell::params::CellParams;
use crate::units::{Ratio, Time};

/// Values that are learned: seven of the resistance, six of the curve.
pub(super) const VALUES: usize = 13;
const OF_RESISTANCE: usize = 7;

/// Of the seven: middle (its logarithm, log odds for the share, is what is learned), deviation of the estimate, and the
/// wider one of the doubt.
const OF_CELLS: [(f64, f64, f64); OF_RESISTANCE] = [
    // Ohm; the middle by the run's mean sag.
    (1.0, 1.0, 1.0),
    // Odds of the ohmic share: even.
    (1.0, 0.3, 0.6),
    // Time constant, s.
    (30.0, 0.5, 0.7),
    // Rise.
    (0.33, 0.4, 0.8),
    // Its scale.
    (0.135, 0.15, 0.3),
    // Its shift by 1 C.
    (0.130, 0.1, 0.9),
    // Bend, h.
    (1.4, 0.3, 0.7),
];

/// Deviations of the curve's error at its knots, V.
pub(super) type CurveDoubt = [f64; 6];

/// How far a cell's curve lies from its chemistry's on board: seven published sets (`tests/references/cell_rates`)
/// against the two on board, root mean square, rounded.
pub(super) const CURVES_DIFFER_V: CurveDoubt = [0.200, 0.100, 0.060, 0.050, 0.050, 0.030];
/// The same where the estimate itself trusts the curve: one rate cannot tell the curve from resistance.
pub(super) const CURVE_TRUSTED_V: CurveDoubt = [0.020, 0.010, 0.002, 0.001, 0.001, 0.001];

/// Where a fit starts, and what it is pulled to.
#[derive(Clone)]
pub(super) struct CellPrior {
    middles: [f64; OF_RESISTANCE],
    /// One deviation of each value: logarithms, then volts.
    deviations: [f64; VALUES],
}

impl CellPrior {
    /// For an estimate from one rate, which trusts the curve, or from several, which tell it.
    pub fn of(courses: &[&MeasuredRun], several: bool) -> Self {
        let (mut sag, mut current) = (0.0, 0.0);
        for course in courses {
            for point in &course.points {
                sag += course.open_circuit_v(point) - point.voltage_v;
                current += point.current_a;
            }
        }
        let ohms = if current > 0.0 { sag / current } else { 0.0 };
        let mut middles = OF_CELLS.map(|(middle, _, _)| middle.ln());
        middles[0] = ohms.clamp(CellParams::RESISTANCE.min, CellParams::RESISTANCE.max).ln();
        let deviations = deviations(several);
        Self { middles, deviations }
    }

    /// The same middles with the whole doubt, and `at` in its deviations.
    pub fn doubted(&self, at: &mut [f64]) -> Self {
        let wide = deviations(true);
        for ((value, was), is) in at.iter_mut().zip(self.deviations).zip(wide) {
            *value *= was / is;
        }
        Self { middles: self.middles, deviations: wide }
    }

    /// Resistance and behaviour so many deviations from the middles.
    pub fn cell(&self, by: &[f64]) -> (f64, CellBehaviour) {
        let off = |index: usize| self.deviations[index] * by.get(index).copied().unwrap_or(0.0);
        let at = |index: usize| (self.middles[index] + off(index)).exp();
        let mut volts = [0.0; 6];
        for (knot, value) in volts.iter_mut().enumerate() {
            *value = off(OF_RESISTANCE + knot);
        }
        let share = Ratio::new::<ratio>;
        let behaviour = CellBehaviour {
            ohmic_share: share(at(1) / (1.0 + at(1))),
            time_constant: Time::new::<second>(at(2)),
            low_charge_rise: share(at(3)),
            low_charge_scale: share(at(4)),
            low_charge_shift: share(at(5)),
            charge_transfer_bend: share(at(6)),
            curve_error: CurveError { volts },
            ..CellBehaviour::default()
        };
        (at(0), behaviour)
    }

    /// One deviation of the logarithm of the resistance.
    pub fn of_resistance(&self) -> f64 {
        self.deviations[0]
    }
}

fn deviations(wide: bool) -> [f64; VALUES] {
    let of_cells = OF_CELLS.map(|(_, estimate, doubt)| if wide { doubt } else { estimate });
    let of_curve = if wide { CURVES_DIFFER_V } else { CURVE_TRUSTED_V };
    let mut all = [0.0; VALUES];
    for (deviation, known) in all.iter_mut().zip(of_cells.into_iter().chain(of_curve)) {
        *deviation = known;
    }
    all
}
