//! The least-squares problem of a bench table.
//!
//! Unknowns: ln C_T, ln C_P, e, ln R, ln I_0, ln k_V, each free or held. Per row, with n = sqrt(T / (C_T ρ D⁴)):
//! - power: v i / η against V I, v and i by the motor's circuit at the torque C_P (n/n_ref)^e ρ n² D⁵ / 2π;
//! - thrust, where speed was measured: C_T ρ n² D⁴ against T;
//! - voltage, where the duty d is known: ω/k_V + i R at the row's thrust against d V, so that the greatest thrust at a voltage is
//!   the measured one whatever the speed column says;
//! - bounds, as squares of what lies beyond: voltage ≤ V (no duty is above 1), and where no row is at full throttle t, duty
//!   between t (a duty) and √t (a stick linear in thrust);
//! - figure of merit at both ends of the table at most 0.85: no measured lifting rotor is better (0.80, propeller classes).
//!
//! Weights: 1 % of the figure and a part of the greatest one (load cell, meter), the thrust's doubt carried into power.
//! Each free unknown also has a prior, as wide as the typical values are uncertain and scaled by the scatter that the
//! table itself shows: a clean table overrules it, a noisy one leans on it where it tells nothing.
//!
//! The controller's η is held: with C_P and I_0 multiplied by η and R divided by it, every residual stays the same.

use core::f64::consts::{PI, TAU};

use levenberg_marquardt::{LeastSquaresProblem, LevenbergMarquardt, TerminationReason};
use nalgebra::storage::Owned;
use nalgebra::{DMatrix, DVector, Dyn};

use crate::input_error::BenchFault;
use crate::propulsion::fit::rows::Row;

/// Number of unknowns.
pub(super) const UNKNOWNS: usize = 6;
pub(super) const LN_CT: usize = 0;
pub(super) const LN_CP: usize = 1;
pub(super) const EXPONENT: usize = 2;
pub(super) const LN_R: usize = 3;
pub(super) const LN_I0: usize = 4;
pub(super) const LN_KV: usize = 5;

/// Greatest figure of merit a fit may say.
const GREATEST_FIGURE_OF_MERIT: f64 = 0.85;
/// e of measured propellers lies well inside: shaft power goes with thrust to the power 1.5 + e/2.
const LEAST_EXPONENT: f64 = -0.45;
const MOST_EXPONENT: f64 = 0.1;
/// One deviation of ln C_P / C_T^1.5 from the usual one of the size: twice the widest spread of the classes.
const POWER_AT_THRUST_WIDTH: f64 = 0.4;
/// Beyond a bound this counts as one deviation.
const BOUND_WIDTH: f64 = 0.002;
/// Duty 1 and the doubt of a voltmeter, so that the bound is not felt where the row is met.
const MOST_DUTY: f64 = 1.01;
const BAND_WIDTH: f64 = 0.03;
const RELATIVE_NOISE: f64 = 0.01;
const THRUST_FLOOR: f64 = 0.003;
const POWER_FLOOR: f64 = 0.002;
/// The scatter assumed never falls below this share of `RELATIVE_NOISE`, so that priors keep their say where the table is mute.
const LEAST_SCATTER: f64 = 0.005;
/// Nor rises above this one: a table that the unknowns do not match yet must not be left to the priors.
const MOST_SCATTER: f64 = 1.0;

/// One unknown: where it starts, and its prior's width; held where `free` is false.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Unknown {
    pub mean: f64,
    pub width: f64,
    pub free: bool,
}

/// A duty and one relative standard deviation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Duty {
    pub value: f64,
    pub width: f64,
}

impl Duty {
    /// Known as well as a voltage is measured.
    pub(super) fn known(value: f64) -> Self {
        Self { value, width: RELATIVE_NOISE }
    }
}

/// The table and what is known beforehand.
#[derive(Debug, Clone)]
pub(super) struct Model {
    pub rows: Vec<Row>,
    /// Duty of a row where it is known.
    pub duty: Vec<Option<Duty>>,
    /// Least and greatest duty of a row where they are known.
    pub bands: Vec<Option<(f64, f64)>>,
    /// ln of the usual C_P / C_T^1.5.
    pub usual_power_at_thrust: f64,
    pub diameter_m: f64,
    pub density_kg_m3: f64,
    pub efficiency: f64,
    pub unknowns: [Unknown; UNKNOWNS],
    pub greatest_thrust_n: f64,
    pub greatest_power_w: f64,
}

/// What the model says of a row.
#[derive(Debug, Clone, Copy)]
pub(super) struct Prediction {
    pub power_w: f64,
    pub voltage_v: f64,
    /// Thrust at the measured speed.
    pub thrust_n: Option<f64>,
}

impl Model {
    /// Thrust at which C_P holds: half the greatest.
    pub(super) fn reference_thrust_n(&self) -> f64 {
        0.5 * self.greatest_thrust_n
    }

    pub(super) fn predict(&self, x: &[f64; UNKNOWNS], row: &Row) -> Prediction {
        let (ct, cp, kv) = (x[LN_CT].exp(), x[LN_CP].exp(), x[LN_KV].exp());
        let (resistance, no_load) = (x[LN_R].exp(), x[LN_I0].exp());
        let per_square = ct * self.density_kg_m3 * self.diameter_m.powi(4);
        let rev_s = (row.thrust_n / per_square).sqrt();
        // n ~ sqrt(T), so (n / n_ref)^e = (T / T_ref)^(e/2).
        let growth = (row.thrust_n / self.reference_thrust_n()).powf(0.5 * x[EXPONENT]);
        let torque = cp * growth * self.density_kg_m3 * rev_s * rev_s * self.diameter_m.powi(5) / TAU;
        let current_a = torque * kv + no_load;
        let voltage_at = |rev_s: f64| TAU * rev_s / kv + current_a * resistance;
        Prediction {
            power_w: voltage_at(rev_s) * current_a / self.efficiency,
            voltage_v: voltage_at(rev_s),
            thrust_n: row.rev_s.map(|rev_s| per_square * rev_s * rev_s),
        }
    }

    /// The table's weighted residuals, and how far each bound is overstepped.
    fn table_residuals(&self, x: &[f64; UNKNOWNS]) -> (Vec<f64>, Vec<f64>) {
        let mut residuals = Vec::with_capacity(3 * self.rows.len());
        let mut bounds = self.figure_of_merit_bounds(x);
        bounds.push((x[EXPONENT] - x[EXPONENT].clamp(LEAST_EXPONENT, MOST_EXPONENT)) / BOUND_WIDTH);
        for ((row, duty), band) in self.rows.iter().zip(&self.duty).zip(&self.bands) {
            let said = self.predict(x, row);
            let thrust_noise = (RELATIVE_NOISE * row.thrust_n).hypot(THRUST_FLOOR * self.greatest_thrust_n);
            // P ~ T^1.5
            let carried = 1.5 * row.power_w * THRUST_FLOOR * self.greatest_thrust_n / row.thrust_n;
            let power_noise =
                (RELATIVE_NOISE * row.power_w).hypot(POWER_FLOOR * self.greatest_power_w).hypot(carried);
            residuals.push((said.power_w - row.power_w) / power_noise);
            if let Some(thrust_n) = said.thrust_n {
                residuals.push((thrust_n - row.thrust_n) / thrust_noise);
            }
            let said_duty = said.voltage_v / row.voltage_v;
            if let Some(duty) = duty {
                residuals.push((said_duty / duty.value - 1.0) / duty.width);
            }
            if let Some((least, most)) = band {
                bounds.push((said_duty - said_duty.clamp(*least, *most)) / BAND_WIDTH);
            }
            bounds.push((said_duty - MOST_DUTY).max(0.0) / BOUND_WIDTH);
        }
        (residuals, bounds)
    }

    /// ln of the figure of merit beyond the greatest, at the table's least and greatest thrust.
    fn figure_of_merit_bounds(&self, x: &[f64; UNKNOWNS]) -> Vec<f64> {
        let at_reference = 0.5 * (2.0 / PI).ln() + 1.5 * x[LN_CT] - x[LN_CP];
        let least_n = self.rows.iter().fold(self.greatest_thrust_n, |least, row| least.min(row.thrust_n));
        [least_n, self.greatest_thrust_n]
            .into_iter()
            .map(|thrust_n| {
                let growth = 0.5 * x[EXPONENT] * (thrust_n / self.reference_thrust_n()).ln();
                (at_reference - growth - GREATEST_FIGURE_OF_MERIT.ln()).max(0.0) / BOUND_WIDTH
            })
            .collect()
    }

    /// Distance of C_P / C_T^1.5 from the usual one of the size, in widths.
    fn power_at_thrust_distance(&self, x: &[f64; UNKNOWNS]) -> f64 {
        (x[LN_CP] - 1.5 * x[LN_CT] - self.usual_power_at_thrust) / POWER_AT_THRUST_WIDTH
    }

    fn free(&self) -> impl Iterator<Item = (usize, &Unknown)> {
        self.unknowns.iter().enumerate().filter(|(_, unknown)| unknown.free)
    }

    /// Solves it, three times over so that the priors are weighed by the scatter found.
    pub(super) fn solve(&self) -> Result<[f64; UNKNOWNS], BenchFault> {
        let mut values = self.unknowns.map(|unknown| unknown.mean);
        let mut scatter = MOST_SCATTER;
        for _ in 0..3 {
            let problem = Problem { model: self, values, scatter };
            let solver = LevenbergMarquardt::new().with_ftol(1e-13).with_xtol(1e-13).with_gtol(1e-13);
            let (problem, report) = solver.minimize(problem);
            // Rounding in the slopes, or the kink of a bound, may end the search before the strict tolerances are met: near the
            // minimum all the same, and the unit is tried on every row before it is handed out.
            let settled = report.termination.was_successful()
                || matches!(
                    report.termination,
                    TerminationReason::NoImprovementPossible(_) | TerminationReason::LostPatience
                );
            values = problem.values;
            if !settled || values.iter().any(|value| !value.is_finite()) {
                return Err(BenchFault::NotConverged);
            }
            let (residuals, _) = self.table_residuals(&values);
            let chi_squared: f64 = residuals.iter().map(|residual| residual * residual).sum();
            let spare = residuals.len().saturating_sub(self.free().count()).max(1);
            scatter = (chi_squared / spare as f64).sqrt().clamp(LEAST_SCATTER, MOST_SCATTER);
        }
        Ok(values)
    }
}

/// One weighing of table against priors.
struct Problem<'a> {
    model: &'a Model,
    values: [f64; UNKNOWNS],
    scatter: f64,
}

impl Problem<'_> {
    fn residuals_at(&self, values: &[f64; UNKNOWNS]) -> DVector<f64> {
        let (mut residuals, bounds) = self.model.table_residuals(values);
        residuals.extend(bounds);
        residuals.push(self.scatter * self.model.power_at_thrust_distance(values));
        for (index, unknown) in self.model.free() {
            residuals.push(self.scatter * (values[index] - unknown.mean) / unknown.width);
        }
        DVector::from_vec(residuals)
    }
}

impl LeastSquaresProblem<f64, Dyn, Dyn> for Problem<'_> {
    type ParameterStorage = Owned<f64, Dyn>;
    type ResidualStorage = Owned<f64, Dyn>;
    type JacobianStorage = Owned<f64, Dyn, Dyn>;

    fn set_params(&mut self, x: &DVector<f64>) {
        for ((index, _), value) in self.model.free().zip(x.iter()) {
            self.values[index] = *value;
        }
    }

    fn params(&self) -> DVector<f64> {
        DVector::from_vec(self.model.free().map(|(index, _)| self.values[index]).collect())
    }

    fn residuals(&self) -> Option<DVector<f64>> {
        let residuals = self.residuals_at(&self.values);
        residuals.iter().all(|residual| residual.is_finite()).then_some(residuals)
    }

    /// Central differences: the unknowns are logarithms or of order one, so one step suits all.
    fn jacobian(&self) -> Option<DMatrix<f64>> {
        const STEP: f64 = 1e-5;
        let columns: Vec<DVector<f64>> = self
            .model
            .free()
            .map(|(index, _)| {
                let (mut above, mut below) = (self.values, self.values);
                above[index] += STEP;
                below[index] -= STEP;
                (self.residuals_at(&above) - self.residuals_at(&below)) / (2.0 * STEP)
            })
            .collect();
        let slopes = DMatrix::from_columns(&columns);
        slopes.iter().all(|slope| slope.is_finite()).then_some(slopes)
    }
}
