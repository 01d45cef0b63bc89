//! The fit itself, and the spread of what it finds.
//!
//! Values stand in standard deviations from their prior's middle, so the prior is a row of ones and the covariance
//! (JᵀJ)⁻¹ with the prior's rows in J. Errors of one run hang together (the model's, not the meter's): a run counts as
//! a few independent points, not as many as it has rows.

use levenberg_marquardt::{LeastSquaresProblem, LevenbergMarquardt};
use nalgebra::{Const, DVector, Dyn, Matrix, OMatrix, Owned, SMatrix, SVector};

use super::cell_prior::{CellPrior, VALUES};
use super::measured_run::MeasuredRun;
use crate::cell::behaviour::{CellBehaviour, CurveError};

/// One standard deviation of what the circuit leaves of a run, V: 4 to 6 mV on PyBaMM DFN runs, Ai et al. 2020.
pub(super) const LEFT_V: f64 = 0.006;
/// Independent points that a run counts as.
const INDEPENDENT: f64 = 8.0;
const STEP: f64 = 1e-4;

type Values = SVector<f64, VALUES>;
type Square = SMatrix<f64, VALUES, VALUES>;

/// A cell one standard deviation from the one learned, along an axis on which nothing else varies.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Variant {
    pub resistance_ohm: f64,
    pub behaviour: CellBehaviour,
}

/// How far what was learned may be off.
pub(super) struct CellSpread {
    /// Of the logarithm of the resistance.
    pub resistance: f64,
    /// Two an axis, either way.
    pub variants: Vec<Variant>,
}

/// Parts of runs, the cell fitted to them.
pub(super) struct CellFit<'a> {
    /// Runs, and which of their points count.
    parts: Vec<(&'a MeasuredRun, &'a dyn Fn(usize) -> bool)>,
    prior: CellPrior,
    at: Values,
}

impl<'a> CellFit<'a> {
    /// To the points that count; whether the curve's error can be told by several rates.
    pub fn of(courses: &[&'a MeasuredRun], counts: &'a dyn Fn(usize) -> bool, several: bool) -> Self {
        let parts = courses.iter().map(|course| (*course, counts)).collect();
        let start = CellFit { parts, prior: CellPrior::of(courses, several), at: Values::zeros() };
        LevenbergMarquardt::new().with_patience(40).minimize(start).0
    }

    /// The same cell, as doubtful as cells and curves differ: for spreads.
    pub fn doubted(mut self) -> Self {
        self.prior = self.prior.doubted(self.at.as_mut_slice());
        self
    }

    pub fn learned(&self) -> (f64, CellBehaviour) {
        self.prior.cell(self.at.as_slice())
    }

    /// Errors of a run's voltages, V.
    pub fn errors(&self, course: &MeasuredRun) -> Vec<f64> {
        errors(course, &self.prior, &self.at)
    }

    pub fn mean_error_v(&self, courses: &[&MeasuredRun]) -> f64 {
        let all: Vec<f64> = courses.iter().flat_map(|course| self.errors(course)).collect();
        all.iter().map(|error| error.abs()).sum::<f64>() / all.len() as f64
    }

    /// Root mean square over the points.
    pub fn curve_error_v(&self, courses: &[&MeasuredRun]) -> f64 {
        let curve: CurveError = self.learned().1.curve_error;
        let points = courses.iter().flat_map(|course| &course.points);
        let (sum, count) = points.fold((0.0, 0.0), |(sum, count), point| {
            (sum + curve.at(point.state_of_charge).powi(2), count + 1.0)
        });
        f64::sqrt(sum / count)
    }

    /// (JᵀJ)⁻¹ with what the runs say counted `inflation` times less, the prior in full.
    fn covariance(&self, inflation: f64) -> Square {
        let Some(slopes) = self.jacobian() else { return Square::identity() };
        let all: Square = (slopes.transpose() * &slopes).fixed_resize::<VALUES, VALUES>(0.0);
        let information = (all - Square::identity()) / inflation + Square::identity();
        information.try_inverse().unwrap_or_else(Square::identity)
    }

    /// With errors as much greater than foretold as what was held out showed. Runs of several rates are at worst as
    /// doubtful as the prior; a single one is in doubt by the prior as well, which its own errors speak against.
    pub fn spread(&self, inflation: f64, several: bool) -> CellSpread {
        let covariance = if several { self.covariance(inflation) } else { self.covariance(1.0) * inflation };
        let root = covariance.cholesky().map_or_else(Square::identity, |factored| factored.l());
        let variant = |deviations: Values| {
            let (resistance_ohm, behaviour) = self.prior.cell(deviations.as_slice());
            Variant { resistance_ohm, behaviour }
        };
        let mut variants = Vec::with_capacity(2 * VALUES);
        for axis in root.column_iter() {
            variants.push(variant(self.at + axis));
            variants.push(variant(self.at - axis));
        }
        CellSpread { resistance: self.prior.of_resistance() * covariance[(0, 0)].sqrt(), variants }
    }

    /// Foretold variance of a run's errors, V², a point.
    pub fn foretold(&self, course: &MeasuredRun) -> Vec<f64> {
        let covariance = self.covariance(1.0);
        let here = errors(course, &self.prior, &self.at);
        let mut slopes = OMatrix::<f64, Dyn, Const<VALUES>>::zeros(here.len());
        for column in 0..VALUES {
            let beside = errors(course, &self.prior, &stepped(&self.at, column));
            for (row, (beside, here)) in beside.iter().zip(&here).enumerate() {
                slopes[(row, column)] = (beside - here) / STEP;
            }
        }
        let spread = &slopes * covariance;
        (0..here.len()).map(|row| LEFT_V * LEFT_V + spread.row(row).dot(&slopes.row(row))).collect()
    }

    fn residuals_at(&self, at: &Values) -> DVector<f64> {
        let mut all = Vec::new();
        for (course, counts) in &self.parts {
            let weight = 1.0 / (LEFT_V * (course.points.len() as f64 / INDEPENDENT).sqrt());
            let errors = errors(course, &self.prior, at).into_iter().enumerate();
            all.extend(errors.map(|(index, error)| if counts(index) { weight * error } else { 0.0 }));
        }
        all.extend(at.iter());
        DVector::from_vec(all)
    }
}

fn stepped(at: &Values, column: usize) -> Values {
    let mut beside = *at;
    beside[column] += STEP;
    beside
}

fn errors(course: &MeasuredRun, prior: &CellPrior, at: &Values) -> Vec<f64> {
    let (resistance_ohm, behaviour) = prior.cell(at.as_slice());
    let voltages = course.voltages(resistance_ohm, &behaviour);
    voltages.iter().zip(&course.points).map(|(model_v, point)| model_v - point.voltage_v).collect()
}

impl LeastSquaresProblem<f64, Dyn, Const<VALUES>> for CellFit<'_> {
    type ParameterStorage = Owned<f64, Const<VALUES>>;
    type ResidualStorage = Owned<f64, Dyn>;
    type JacobianStorage = Owned<f64, Dyn, Const<VALUES>>;

    fn set_params(&mut self, at: &Values) {
        self.at = *at;
    }

    fn params(&self) -> Values {
        self.at
    }

    fn residuals(&self) -> Option<DVector<f64>> {
        let residuals = self.residuals_at(&self.at);
        residuals.iter().all(|error| error.is_finite()).then_some(residuals)
    }

    fn jacobian(&self) -> Option<Matrix<f64, Dyn, Const<VALUES>, Self::JacobianStorage>> {
        let here = self.residuals_at(&self.at);
        let mut slopes = OMatrix::<f64, Dyn, Const<VALUES>>::zeros(here.len());
        for (column, mut slope) in slopes.column_iter_mut().enumerate() {
            slope.copy_from(&((self.residuals_at(&stepped(&self.at, column)) - &here) / STEP));
        }
        slopes.iter().all(|slope| slope.is_finite()).then_some(slopes)
    }
}
