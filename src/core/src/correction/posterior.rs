//! The distribution of the factor's logarithm, by quadrature.
//!
//! Formula   p(θ | y) ∝ N(θ; 0, s²) ∫ N(z; 0, 1) Π t_ν((y_i − θ) / c_i(z))^w_i / c_i^w_i dz, c_i² = (c e^{d z})² + r_i²;
//!           the integral over z by 17 points, θ by trapezoids on a grid set to where the mass lies
//! Units     dimensionless
//! Source    Bayes' theorem; Student's t as a likelihood that outliers cannot drag (Lange, Little, Taylor 1989, from memory)
//! Valid     |θ| up to 1.7
//! Assumes   flights independent but for the factor that they share

use super::params::Scatter;

const GREATEST: f64 = 1.7;
const COARSE: usize = 171;
const FINE: usize = 401;
/// Mass below which an end of the grid does not matter.
const NEGLIGIBLE: f64 = 1e-9;
const SCALE_POINTS: i32 = 8;
const SCALE_STEP: f64 = 0.35;

/// A flight as plain numbers.
#[derive(Debug, Clone, Copy)]
pub(super) struct Datum {
    /// Logarithm of its factor.
    pub log_factor: f64,
    pub reading: f64,
    /// How much it counts.
    pub weight: f64,
}

/// The density on a grid, its sum one.
pub(super) struct Posterior {
    at: Vec<f64>,
    mass: Vec<f64>,
}

impl Posterior {
    pub fn new(data: &[Datum], spread: f64, scatter: &Scatter) -> Self {
        let coarse = Self::on(-GREATEST, GREATEST, COARSE, data, spread, scatter);
        let (low, high) = (coarse.quantile(NEGLIGIBLE), coarse.quantile(1.0 - NEGLIGIBLE));
        let step = 2.0 * GREATEST / (COARSE - 1) as f64;
        Self::on(low - step, high + step, FINE, data, spread, scatter)
    }

    fn on(low: f64, high: f64, points: usize, data: &[Datum], spread: f64, scatter: &Scatter) -> Self {
        let at: Vec<f64> = (0..points).map(|i| low + (high - low) * i as f64 / (points - 1) as f64).collect();
        let mut logs = vec![0.0; points];
        let mut scaled = vec![f64::NEG_INFINITY; points];
        for (log_weight, scale) in scales(scatter) {
            for (log, theta) in logs.iter_mut().zip(&at) {
                *log = log_weight + log_likelihood(data, *theta, scale, scatter.degrees_of_freedom.value);
            }
            for (sum, log) in scaled.iter_mut().zip(&logs) {
                let greater = sum.max(*log);
                *sum = greater + ((*sum - greater).exp() + (*log - greater).exp()).ln();
            }
        }
        for (log, theta) in scaled.iter_mut().zip(&at) {
            *log -= 0.5 * (theta / spread).powi(2);
        }
        let most = scaled.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let density: Vec<f64> = scaled.iter().map(|log| (log - most).exp()).collect();
        let sum: f64 = density.iter().sum();
        Self { at, mass: density.into_iter().map(|density| density / sum).collect() }
    }

    /// Where the mass below is `share`, linear between the grid's places.
    pub fn quantile(&self, share: f64) -> f64 {
        // Half of a place's mass lies on either side of it.
        let (mut below, mut last) = (0.0, None::<(f64, f64)>);
        for (at, mass) in self.at.iter().zip(&self.mass) {
            let middle = below + 0.5 * mass;
            if middle >= share {
                return match last {
                    Some((last_at, last_share)) if middle > last_share => {
                        last_at + (at - last_at) * (share - last_share) / (middle - last_share)
                    }
                    _ => *at,
                };
            }
            last = Some((*at, middle));
            below += mass;
        }
        self.at.last().copied().unwrap_or_default()
    }

    pub fn standard_deviation(&self) -> f64 {
        let mean: f64 = self.at.iter().zip(&self.mass).map(|(at, mass)| at * mass).sum();
        let square = |(at, mass): (&f64, &f64)| (at - mean).powi(2) * mass;
        self.at.iter().zip(&self.mass).map(square).sum::<f64>().sqrt()
    }
}

/// Scales with the logarithms of their weights.
fn scales(scatter: &Scatter) -> Vec<(f64, f64)> {
    let (scale, doubt) = (scatter.scale.value, scatter.scale_doubt.value);
    if doubt <= 0.0 {
        return vec![(0.0, scale)];
    }
    let point = |i: i32| {
        let z = f64::from(i) * SCALE_STEP;
        (-0.5 * z * z, scale * (doubt * z).exp())
    };
    (-SCALE_POINTS..=SCALE_POINTS).map(point).collect()
}

fn log_likelihood(data: &[Datum], theta: f64, scale: f64, degrees_of_freedom: f64) -> f64 {
    let one = |datum: &Datum| {
        let square = scale * scale + datum.reading * datum.reading;
        let miss = (datum.log_factor - theta).powi(2) / square;
        let tail = 0.5 * (degrees_of_freedom + 1.0) * (miss / degrees_of_freedom).ln_1p();
        datum.weight * (-tail - 0.5 * square.ln())
    };
    data.iter().map(one).sum()
}
