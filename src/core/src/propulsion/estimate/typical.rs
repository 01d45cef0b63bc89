//! Typical coefficients of a rotor of which only diameter and pitch are known, and how far real ones lie from them.
//!
//! Formula   linear in p/D between the knots of a class, and in the logarithm of the diameter between classes; below the first
//!           knot C_T along the first slope at equal figure of merit; beyond the last class as the last
//! Units     dimensionless
//! Source    `classes`; spreads: half of the distance of the 10 % and 90 % quantiles over 1.28 within the classes of the table,
//!           the wider where one family stands for a class
//! Valid     0.2 ≤ p/D ≤ 1.1
//! Assumes   two blades, fixed pitch; another blade number or a shape of its own lies within the spread at best

use super::classes::{CLASSES, Knot, Origin, SizeClass};
use crate::input_error::InputError;
use crate::input_range::{InputRange, Kind};
use crate::propulsion::params::Declared;

/// Pitch over diameter that the table covers.
static PITCH_RATIO: InputRange = InputRange::new("pitch_to_diameter", Kind::Number, 0.2, 1.1);
/// Taken where the pitch is not stated: usual for lifting rotors, no source.
const USUAL_PITCH_RATIO: f64 = 1.0 / 3.0;
/// Below this diameter the classes hold many makes and scatter more, m (12 inches).
const LARGE_M: f64 = 0.304_8;
/// Above this the blade stalls at rest and makes differ widely.
const STEEP: f64 = 0.6;
/// Unknown pitch: lifting rotors of 0.25 to 0.42 change C_T by this, one standard deviation.
const UNKNOWN_PITCH_THRUST: f64 = 0.15;
/// The same for power at equal thrust.
const UNKNOWN_PITCH_POWER: f64 = 0.06;
/// Where no measurement of the class stands behind a figure.
const SCALED: f64 = 0.06;

/// Coefficients and one standard deviation of their logarithms.
#[derive(Debug, Clone, Copy)]
pub(in crate::propulsion) struct Typical {
    pub thrust_coefficient: f64,
    pub power_coefficient: f64,
    /// Of C_T.
    pub thrust_spread: f64,
    /// Of shaft power at equal thrust.
    pub shaft_power_spread: f64,
}

/// By diameter and pitch, or the usual pitch.
pub(in crate::propulsion) fn typical(declared: &Declared) -> Result<Typical, InputError> {
    let diameter_m = declared.diameter.value;
    let pitch_ratio = match declared.pitch {
        Some(pitch) => PITCH_RATIO.check(pitch.value / diameter_m)?,
        None => USUAL_PITCH_RATIO,
    };
    let (small, large, share) = between(diameter_m);
    let (of_small, of_large) = (at(small, pitch_ratio), at(large, pitch_ratio));
    let mix = |of: fn(&Knot) -> f64| of(&of_small) + (of(&of_large) - of(&of_small)) * share;
    let is_scaled = of_small.origin == Origin::Scaled && (of_large.origin == Origin::Scaled || share < 0.5)
        || of_large.origin == Origin::Scaled && share >= 0.5;
    let (thrust, power) = spreads(diameter_m, pitch_ratio);
    let with = |spread: f64, unknown: f64| {
        let unknown = if declared.pitch.is_none() { unknown } else { 0.0 };
        spread.hypot(unknown).hypot(if is_scaled { SCALED } else { 0.0 })
    };
    Ok(Typical {
        thrust_coefficient: mix(|knot| knot.thrust_coefficient),
        power_coefficient: mix(|knot| knot.power_coefficient),
        thrust_spread: with(thrust, UNKNOWN_PITCH_THRUST),
        shaft_power_spread: with(power, UNKNOWN_PITCH_POWER),
    })
}

/// The classes on both sides, and how far towards the larger.
fn between(diameter_m: f64) -> (&'static SizeClass, &'static SizeClass, f64) {
    let [first, .., last] = &CLASSES;
    for pair in CLASSES.windows(2) {
        if let [small, large] = pair
            && diameter_m <= large.diameter_m
        {
            let share = (diameter_m / small.diameter_m).ln() / (large.diameter_m / small.diameter_m).ln();
            return if share <= 0.0 { (first, first, 0.0) } else { (small, large, share) };
        }
    }
    (last, last, 0.0)
}

fn at(class: &SizeClass, pitch_ratio: f64) -> Knot {
    let [first, second, ..] = class.knots;
    let (mut low, mut high) = (first, second);
    for pair in class.knots.windows(2) {
        if let [before, after] = pair
            && pitch_ratio >= before.pitch_ratio
        {
            (low, high) = (*before, *after);
        }
    }
    // Beyond the last knot nothing is known to rise.
    let share = ((pitch_ratio - low.pitch_ratio) / (high.pitch_ratio - low.pitch_ratio)).min(1.0);
    let mix = |low: f64, high: f64| low + (high - low) * share;
    let nearer = if share < 0.5 { low } else { high };
    let thrust_coefficient = mix(low.thrust_coefficient, high.thrust_coefficient);
    let power_coefficient = if share >= 0.0 {
        mix(low.power_coefficient, high.power_coefficient)
    } else {
        // Flatter than any measured: no figure of merit better than the flattest measured one.
        low.power_coefficient * (thrust_coefficient / low.thrust_coefficient).powf(1.5)
    };
    Knot { pitch_ratio, thrust_coefficient, power_coefficient, origin: nearer.origin }
}

/// (C_T, shaft power at equal thrust).
fn spreads(diameter_m: f64, pitch_ratio: f64) -> (f64, f64) {
    match (diameter_m >= LARGE_M, pitch_ratio <= STEEP) {
        (true, true) => (0.12, 0.12),
        (true, false) => (0.14, 0.24),
        (false, true) => (0.19, 0.14),
        (false, false) => (0.19, 0.24),
    }
}
