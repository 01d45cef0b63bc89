//! What each rotor carries when some of them are stopped or weak.
//!
//! Formula   least Σ t² with Σ t = T, Σ t x = Σ t y = 0 about the centre of gravity, Σ ± t = 0 while the heading is
//!           held, 0 ≤ t ≤ w; by its dual: t = clamp(Aᵀλ, 0, w) with A t(λ) = b, solved by Newton's method
//! Units     N
//! Source    bounded least-norm control allocation (standard method); conditions of Karush, Kuhn and Tucker
//! Valid     up to 16 rotors
//! Assumes   as `rotor_out`

use super::params::{Layout, Position};
use super::shares::Arm;
use crate::input_error::InputError;
use crate::units::Force;
use nalgebra::{Matrix4, Vector4};
use uom::si::force::newton;

/// Newton steps; a handful suffices, each changes which rotors stand at a bound.
const STEPS: usize = 200;
/// How near the sums must come, as a share of the total.
const CLOSE: f64 = 1e-9;
/// Keeps the matrix regular while whole rows stand at their bounds.
const RIDGE: f64 = 1e-12;

/// Thrust of each rotor in level hover at `total`, each at most at its `greatest`; none where they cannot.
///
/// # Errors
/// `InputError::OutOfRange` for the position of the centre of gravity.
pub fn allocate(
    layout: &Layout,
    centre_of_gravity: &Position,
    greatest: &[Force],
    total: Force,
    hold_heading: bool,
) -> Result<Option<Vec<Force>>, InputError> {
    centre_of_gravity.validate()?;
    let arms = Arm::all(layout, centre_of_gravity);
    let size = arms.iter().fold(f64::MIN_POSITIVE, |most, arm| most.max(arm.forward_m.hypot(arm.right_m)));
    let total_n = total.get::<newton>();
    // Thrusts over the total, levers over the longest: every row of the system is of the order of one.
    let rotors: Vec<(Vector4<f64>, f64)> = arms
        .iter()
        .enumerate()
        .map(|(index, arm)| {
            let yaw = if hold_heading { arm.yaw } else { 0.0 };
            let most = greatest.get(index).map_or(0.0, |most| most.get::<newton>() / total_n);
            (Vector4::new(1.0, arm.forward_m / size, arm.right_m / size, yaw), most.max(0.0))
        })
        .collect();
    let shares = solve(&rotors);
    Ok(shares.map(|shares| shares.into_iter().map(|share| Force::new::<newton>(share * total_n)).collect()))
}

fn solve(rotors: &[(Vector4<f64>, f64)]) -> Option<Vec<f64>> {
    let mut lambda = Vector4::new(1.0 / rotors.len().max(1) as f64, 0.0, 0.0, 0.0);
    for _ in 0..STEPS {
        let left = missing(rotors, &lambda);
        if left.amax() < CLOSE {
            return Some(rotors.iter().map(|rotor| thrust(&lambda, rotor)).collect());
        }
        let is_free = |rotor: &&(Vector4<f64>, f64)| {
            let asked = rotor.0.dot(&lambda);
            asked > 0.0 && asked < rotor.1
        };
        let curvature: Matrix4<f64> =
            rotors.iter().filter(is_free).map(|rotor| rotor.0 * rotor.0.transpose()).sum::<Matrix4<f64>>()
                + Matrix4::identity() * RIDGE.max(1e-3 * left.norm());
        let step = curvature.try_inverse()? * left;
        lambda += step * climbing(rotors, &lambda, &step, left.dot(&step));
    }
    None
}

const TARGET: Vector4<f64> = Vector4::new(1.0, 0.0, 0.0, 0.0);

fn thrust(lambda: &Vector4<f64>, (column, most): &(Vector4<f64>, f64)) -> f64 {
    column.dot(lambda).clamp(0.0, *most)
}

/// The slope of the dual: what the sums lack.
fn missing(rotors: &[(Vector4<f64>, f64)], lambda: &Vector4<f64>) -> Vector4<f64> {
    rotors.iter().fold(TARGET, |left, rotor| left - rotor.0 * thrust(lambda, rotor))
}

/// The dual itself, concave: b·λ − Σ ∫ clamp.
fn dual(rotors: &[(Vector4<f64>, f64)], lambda: &Vector4<f64>) -> f64 {
    let cost = |rotor: &(Vector4<f64>, f64)| {
        let (asked, given) = (rotor.0.dot(lambda), thrust(lambda, rotor));
        given * (asked - 0.5 * given)
    };
    TARGET.dot(lambda) - rotors.iter().map(cost).sum::<f64>()
}

/// The share of a step, halved until the dual rises as its slope promises.
fn climbing(rotors: &[(Vector4<f64>, f64)], lambda: &Vector4<f64>, step: &Vector4<f64>, slope: f64) -> f64 {
    let from = dual(rotors, lambda);
    let mut share = 1.0;
    while share > 1e-9 && dual(rotors, &(lambda + step * share)) < from + 1e-4 * share * slope - 1e-15 {
        share *= 0.5;
    }
    share
}
