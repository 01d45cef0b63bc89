//! A root of a continuous function between two ends of unlike sign.
//!
//! The Illinois variant of the method of false position (Dowell and Jarratt 1971, from memory): keeps a bracket, so it
//! always converges. Source-free arithmetic otherwise.

/// x with 0 ≤ f(x) ≤ `tolerance`, where f(`low`) > 0 > f(`high`); none if the ends are not so.
pub(super) fn last_positive(
    low: f64,
    high: f64,
    tolerance: f64,
    mut f: impl FnMut(f64) -> f64,
) -> Option<f64> {
    // Aim inside the tolerance so that the answer is on the allowed side.
    let aim = 0.5 * tolerance;
    let (f_low, f_high) = (f(low) - aim, f(high) - aim);
    if f_low.abs() <= aim {
        return Some(low);
    }
    if !(f_low > 0.0 && f_high < 0.0) {
        return None;
    }
    Some(between(low, high, f_low, f_high, aim, |x| f(x) - aim))
}

/// How far from a guess an end is looked for where the value there did not lead to one.
const NEAR: f64 = 0.02;
/// What a step of the value itself is stretched by, to land beyond the root.
const BEYOND: f64 = 1.05;

/// The same near a guess, which saves most of the steps where it is good; none where no ends of unlike sign are found
/// within a fifth of it. `f` is what is left of a limit, as a share of it, of something that grows at least as `x` does: the root
/// is no further from the guess, as a share of it, than about the value there.
pub(super) fn last_positive_near(guess: f64, tolerance: f64, mut f: impl FnMut(f64) -> f64) -> Option<f64> {
    let aim = 0.5 * tolerance;
    let mut aimed = |x: f64| f(x) - aim;
    let at_guess = aimed(guess);
    if at_guess.abs() <= aim {
        return Some(guess);
    }
    let (mut inner, mut f_inner) = (guess, at_guess);
    let first = (BEYOND * at_guess.abs()).min(NEAR);
    for step in [first, 2.0 * NEAR, 4.0 * NEAR, 10.0 * NEAR] {
        let outer = if at_guess > 0.0 { guess * (1.0 + step) } else { guess * (1.0 - step) };
        let f_outer = aimed(outer);
        if f_outer.abs() <= aim {
            return Some(outer);
        }
        if at_guess > 0.0 && f_outer < 0.0 {
            return Some(between(inner, outer, f_inner, f_outer, aim, aimed));
        }
        if at_guess < 0.0 && f_outer > 0.0 {
            return Some(between(outer, inner, f_outer, f_inner, aim, aimed));
        }
        (inner, f_inner) = (outer, f_outer);
    }
    None
}

fn between(
    mut low: f64,
    mut high: f64,
    mut f_low: f64,
    mut f_high: f64,
    aim: f64,
    mut f: impl FnMut(f64) -> f64,
) -> f64 {
    let mut side = 0_i8;
    for round in 0..120 {
        let x = if round % 8 == 7 || !f_low.is_finite() || !f_high.is_finite() {
            0.5 * (low + high)
        } else {
            (low * f_high - high * f_low) / (f_high - f_low)
        };
        let f_x = f(x);
        if f_x.abs() <= aim {
            return x;
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
    low
}
