//! A root of a continuous function between two ends of unlike sign.
//!
//! The Illinois variant of the method of false position (Dowell and Jarratt 1971, from memory): keeps a bracket, so it
//! always converges. Source-free arithmetic otherwise.

/// x with 0 ≤ f(x) ≤ `tolerance`, where f(`low`) > 0 > f(`high`); none if the ends are not so.
pub(super) fn last_positive(
    mut low: f64,
    mut high: f64,
    tolerance: f64,
    mut f: impl FnMut(f64) -> f64,
) -> Option<f64> {
    // Aim inside the tolerance so that the answer is on the allowed side.
    let aim = 0.5 * tolerance;
    let (mut f_low, mut f_high) = (f(low) - aim, f(high) - aim);
    if f_low.abs() <= aim {
        return Some(low);
    }
    if !(f_low > 0.0 && f_high < 0.0) {
        return None;
    }
    let mut side = 0_i8;
    for round in 0..120 {
        let x = if round % 8 == 7 || !f_low.is_finite() || !f_high.is_finite() {
            0.5 * (low + high)
        } else {
            (low * f_high - high * f_low) / (f_high - f_low)
        };
        let f_x = f(x) - aim;
        if f_x.abs() <= aim {
            return Some(x);
        }
        if f_x > 0.0 {
            (low, f_low) = (x, f_x);
            if side == 1 {
                f_high *= 0.5;
            }
            side = 1;
        } else {
            (high, f_high) = (x, f_x);
            if side == -1 {
                f_low *= 0.5;
            }
            side = -1;
        }
        if high - low <= 1e-14 * high.abs() {
            break;
        }
    }
    Some(low)
}
