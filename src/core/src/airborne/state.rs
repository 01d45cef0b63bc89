//! The filter's state: charge used, rate over the plan's, capacity over the plan's, and what is in doubt of them.
//!
//! Formula   x = (q, f, c); from t to t + Δt, the plan using Δp: q ← q + f Δp, and f wanders: P ← F P Fᵀ + Q with
//!           F = [1 Δp 0; 0 1 0; 0 0 1], Q = σ² Δt [Δp²/3 Δp/2 0; Δp/2 1 0; 0 0 0]; a reading y = h x + noise of
//!           variance r: s = h P hᵀ + r, k = P hᵀ / s, x ← x + k (y − h x), P ← P − k s kᵀ
//! Units     C, s
//! Source    Kalman 1960, J. Basic Engineering 82, 35 (equations from memory); Q is the integral of a random walk of f
//!           whose plan uses evenly within Δt
//! Valid     as the plan
//! Checked   against hand-worked steps and a batch least-squares solution (tests/it/airborne.rs)
//! Assumes   normal errors, independent of each other

/// Mean and covariance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct FilterState {
    pub mean: [f64; 3],
    pub covariance: [[f64; 3]; 3],
}

impl FilterState {
    pub fn new(mean: [f64; 3], deviations: [f64; 3]) -> Self {
        let mut covariance = [[0.0; 3]; 3];
        for (index, (row, deviation)) in covariance.iter_mut().zip(deviations).enumerate() {
            if let Some(own) = row.get_mut(index) {
                *own = deviation * deviation;
            }
        }
        Self { mean, covariance }
    }

    /// Carried on by a piece of the plan. `walk` is the variance that f gains on the way.
    pub fn carry(&mut self, planned_c: f64, walk: f64) {
        let p = self.covariance;
        self.mean[0] += self.mean[1] * planned_c;
        let own = p[0][0] + 2.0 * planned_c * p[0][1] + planned_c * planned_c * (p[1][1] + walk / 3.0);
        let with_rate = p[0][1] + planned_c * (p[1][1] + walk / 2.0);
        let with_capacity = p[0][2] + planned_c * p[1][2];
        self.covariance = [
            [own, with_rate, with_capacity],
            [with_rate, p[1][1] + walk, p[1][2]],
            [with_capacity, p[1][2], p[2][2]],
        ];
    }

    /// Variance of what a reading along `h` would show, without the reading's own.
    pub fn variance_along(&self, h: [f64; 3]) -> f64 {
        let along = self.times(h);
        h.iter().zip(along).map(|(h, along)| h * along).sum::<f64>().max(0.0)
    }

    fn times(&self, h: [f64; 3]) -> [f64; 3] {
        self.covariance.map(|row| row.iter().zip(h).map(|(p, h)| p * h).sum())
    }

    /// Takes in a reading that missed what was expected by `miss`.
    pub fn take(&mut self, h: [f64; 3], miss: f64, variance: f64) {
        let along = self.times(h);
        let whole = self.variance_along(h) + variance;
        if whole <= 0.0 {
            return;
        }
        for (mean, along) in self.mean.iter_mut().zip(along) {
            *mean += along / whole * miss;
        }
        for (row, of_row) in self.covariance.iter_mut().zip(along) {
            for (entry, of_column) in row.iter_mut().zip(along) {
                *entry -= of_row * of_column / whole;
            }
        }
    }

    pub fn deviation(&self, index: usize) -> f64 {
        self.covariance.get(index).and_then(|row| row.get(index)).copied().unwrap_or_default().max(0.0).sqrt()
    }
}
