//! The least-squares problem of a bench table.
//!
//! Unknowns: ln C_T, ln C_P, e, ln R, ln I_0, ln k_V, each free or held. Per row, with n = sqrt(T / (C_T ρ D⁴)):
//! - power: v i / η against V I, v and i by the motor's circuit at the torque C_P (n/n_ref)^e ρ n² D⁵ / 2π;
//! - thrust, where speed was measured: C_T ρ n² D⁴ against T;
//! - voltage, where the duty d is known: ω/k_V + i R against d V.
//!
//! Weights: 1 % of the figure and a part of the greatest one (load cell, meter), the thrust's doubt carried into power.
//! Each free unknown also has a prior, as wide as the typical values are uncertain and scaled by the scatter that the
//! table itself shows: a clean table overrules it, a noisy one leans on it where it tells nothing.
//!
//! The controller's η is held: with C_P and I_0 multiplied by η and R divided by it, every residual stays the same.

use core::f64::consts::TAU;

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

const RELATIVE_NOISE: f64 = 0.01;
const THRUST_FLOOR: f64 = 0.003;
const POWER_FLOOR: f64 = 0.002;
/// The scatter assumed never falls below this share of `RELATIVE_NOISE`, so that priors keep their say where the table is mute.
const LEAST_SCATTER: f64 = 0.005;

/// One unknown: where it starts, and its prior's width; held where `free` is false.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Unknown {
    pub mean: f64,
    pub width: f64,
    pub free: bool,
}

/// The table and what is known beforehand.
#[derive(Debug, Clone)]
pub(super) struct Model {
    pub rows: Vec<Row>,
    /// Duty of a row where it is known.
    pub duty: Vec<Option<f64>>,
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

/// The answer.
#[derive(Debug, Clone, Copy)]
pub(super) struct Solution {
    pub values: [f64; UNKNOWNS],
    /// Root mean square of the table's weighted residuals.
    pub scatter: f64,
    /// Sum of squares of the table's weighted residuals.
    pub chi_squared: f64,
    /// Sum of squares of the unknowns' distances from their priors, in widths.
    pub prior_squared: f64,
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
            voltage_v: voltage_at(row.rev_s.unwrap_or(rev_s)),
            thrust_n: row.rev_s.map(|rev_s| per_square * rev_s * rev_s),
        }
    }

    /// The table's weighted residuals.
    fn table_residuals(&self, x: &[f64; UNKNOWNS]) -> Vec<f64> {
        let mut residuals = Vec::with_capacity(3 * self.rows.len());
        for (row, duty) in self.rows.iter().zip(&self.duty) {
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
            if let Some(duty) = duty {
                residuals.push((said.voltage_v / (duty * row.voltage_v) - 1.0) / RELATIVE_NOISE);
            }
        }
        residuals
    }

    fn free(&self) -> impl Iterator<Item = (usize, &Unknown)> {
        self.unknowns.iter().enumerate().filter(|(_, unknown)| unknown.free)
    }

    /// Solves it, three times over so that the priors are weighed by the scatter found.
    pub(super) fn solve(&self) -> Result<Solution, BenchFault> {
        let mut values = self.unknowns.map(|unknown| unknown.mean);
        let mut scatter = 1.0;
        let mut chi_squared = 0.0;
        for _ in 0..3 {
            let problem = Problem { model: self, values, scatter };
            let solver = LevenbergMarquardt::new().with_ftol(1e-13).with_xtol(1e-13).with_gtol(1e-13);
            let (problem, report) = solver.minimize(problem);
            // Rounding in the slopes may end the search before the strict tolerances are met: at the minimum all the same.
            let settled = report.termination.was_successful()
                || matches!(report.termination, TerminationReason::NoImprovementPossible(_));
            values = problem.values;
            if !settled || values.iter().any(|value| !value.is_finite()) {
                return Err(BenchFault::NotConverged);
            }
            let residuals = self.table_residuals(&values);
            chi_squared = residuals.iter().map(|residual| residual * residual).sum();
            let spare = residuals.len().saturating_sub(self.free().count()).max(1);
            scatter = (chi_squared / spare as f64).sqrt().max(LEAST_SCATTER);
        }
        let prior_squared =
            self.free().map(|(index, at)| ((values[index] - at.mean) / at.width).powi(2)).sum();
        Ok(Solution { values, scatter, chi_squared, prior_squared })
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
        let mut residuals = self.model.table_residuals(values);
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
