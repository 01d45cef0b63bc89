//! Level hover with one rotor stopped.
//!
//! Formula   greatest Σ t with 0 ≤ t_i ≤ w_i and Σ t_i m_i = 0, by its dual: min over λ of Σ w_i max(0, 1 − λ·m_i),
//!           exact at the meeting points of the planes λ·m_i = 1; m = (x, y) or (x, y, ± yaw)
//! Units     thrusts over the greatest thrust of one rotor
//! Source    linear-programming duality; proved against a general solver in tests/it/frame.rs
//! Valid     up to 16 rotors
//! Assumes   the mixer re-solves for the remaining rotors, thrust acts at once; a static maximum with no control
//!           margin left. Whether a hover is controllable follows Stiemke's lemma: some hover has every remaining
//!           rotor strictly between stop and full unless a λ has λ·m_i ≥ 0 for all and > 0 for one

use super::params::{Layout, Position};
use super::shares::Arm;
use crate::input_error::InputError;
use crate::units::Ratio;
use uom::si::ratio::ratio;

/// What the remaining rotors can do.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Capability {
    /// Can hold level and heading, with authority left every way.
    HoldsLevelAndHeading,
    /// Can hold level but will turn.
    HoldsLevelTurning {
        /// Heading could be held on paper, with no authority left one way.
        heading_at_boundary: bool,
    },
    /// Cannot hold level: landing is not assured.
    CannotHoldLevel,
}

/// One rotor stopped.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RotorOut {
    /// The stopped rotor, from 0.
    pub failed: usize,
    /// What the others can do.
    pub capability: Capability,
    /// Greatest level thrust with heading held, over the full thrust of all rotors.
    pub greatest_heading_held: Ratio,
    /// Greatest level thrust with heading given up, over the full thrust of all rotors.
    pub greatest_turning: Ratio,
}

impl RotorOut {
    /// Greatest level thrust over full thrust in the best controllable way; zero where level cannot be held.
    pub fn greatest_level(&self) -> Ratio {
        match self.capability {
            Capability::HoldsLevelAndHeading | Capability::HoldsLevelTurning { .. } => self.greatest_turning,
            Capability::CannotHoldLevel => Ratio::new::<ratio>(0.0),
        }
    }
}

const TOLERANCE: f64 = 1e-9;
/// A lever counts from this share of the longest arm on: on paper a centre of gravity a few millimetres off lets a flat
/// quad balance on three rotors, one of them idling. Common practice, no source.
const AUTHORITY: f64 = 0.05;

/// Level hover with the rotor `failed` stopped; a rotor that is not there means none stopped.
///
/// # Errors
/// `InputError::OutOfRange` for the position of the centre of gravity.
pub fn rotor_out(
    layout: &Layout,
    centre_of_gravity: &Position,
    failed: usize,
) -> Result<RotorOut, InputError> {
    centre_of_gravity.validate()?;
    let arms = Arm::all(layout, centre_of_gravity);
    let size = arms.iter().fold(0.0_f64, |most, arm| most.max(arm.forward_m.hypot(arm.right_m)));
    let scale = if size > 0.0 { size } else { 1.0 };
    let left: Vec<[f64; 3]> = arms
        .iter()
        .enumerate()
        .filter(|(index, _)| *index != failed)
        .map(|(_, arm)| [arm.forward_m / scale, arm.right_m / scale, arm.yaw])
        .collect();
    let turning: Vec<[f64; 3]> = left.iter().map(|[x, y, _]| [*x, *y, 0.0]).collect();
    let full = arms.len() as f64;
    let greatest_heading_held = greatest(&left) / full;
    let is_level = strictly_inside(&turning, 2);
    let capability = if is_level && strictly_inside(&left, 3) {
        Capability::HoldsLevelAndHeading
    } else if is_level {
        Capability::HoldsLevelTurning { heading_at_boundary: greatest_heading_held > TOLERANCE }
    } else {
        Capability::CannotHoldLevel
    };
    Ok(RotorOut {
        failed,
        capability,
        greatest_heading_held: Ratio::new::<ratio>(greatest_heading_held),
        greatest_turning: Ratio::new::<ratio>(greatest_turning(&turning) / full),
    })
}

/// Every rotor stopped in turn.
///
/// # Errors
/// As `rotor_out`.
pub fn rotor_out_all(layout: &Layout, centre_of_gravity: &Position) -> Result<Vec<RotorOut>, InputError> {
    (0..layout.places.len()).map(|failed| rotor_out(layout, centre_of_gravity, failed)).collect()
}

fn dual(moments: &[[f64; 3]], lambda: [f64; 3]) -> f64 {
    moments.iter().map(|m| (1.0 - dot(lambda, *m)).max(0.0)).sum()
}

fn greatest(moments: &[[f64; 3]]) -> f64 {
    let mut least = greatest_turning(moments);
    for (i, a) in moments.iter().enumerate() {
        for (j, b) in moments.iter().enumerate().skip(i + 1) {
            for c in moments.iter().skip(j + 1) {
                if let Some(lambda) = meeting_point(*a, *b, *c) {
                    least = least.min(dual(moments, lambda));
                }
            }
        }
    }
    least
}

fn greatest_turning(moments: &[[f64; 3]]) -> f64 {
    let mut least = dual(moments, [0.0; 3]);
    for (i, a) in moments.iter().enumerate() {
        for b in moments.iter().skip(i + 1) {
            let determinant = a[0] * b[1] - a[1] * b[0];
            if determinant.abs() > TOLERANCE {
                let lambda = [(b[1] - a[1]) / determinant, (a[0] - b[0]) / determinant, 0.0];
                least = least.min(dual(moments, lambda));
            }
        }
    }
    least
}

/// λ with λ·a = λ·b = λ·c = 1, by Cramer's rule.
fn meeting_point(a: [f64; 3], b: [f64; 3], c: [f64; 3]) -> Option<[f64; 3]> {
    let normals = [cross(b, c), cross(c, a), cross(a, b)];
    let determinant = dot(a, normals[0]);
    (determinant.abs() > TOLERANCE).then(|| {
        core::array::from_fn(|axis| (normals[0][axis] + normals[1][axis] + normals[2][axis]) / determinant)
    })
}

/// Whether zero moment lies inside what non-negative thrusts can make, in 2 or 3 axes, with levers that count.
fn strictly_inside(moments: &[[f64; 3]], axes: usize) -> bool {
    let candidates = |a: [f64; 3], b: [f64; 3]| if axes == 2 { [-a[1], a[0], 0.0] } else { cross(a, b) };
    let mut spans = false;
    for (i, a) in moments.iter().enumerate() {
        for b in moments.iter().skip(i + 1) {
            let normal = candidates(*a, *b);
            if dot(normal, normal) < TOLERANCE {
                continue;
            }
            let least = AUTHORITY * dot(normal, normal).sqrt();
            let above = moments.iter().filter(|m| dot(normal, **m) > least).count();
            let below = moments.iter().filter(|m| dot(normal, **m) < -least).count();
            if (above == 0) != (below == 0) {
                return false;
            }
            spans |= above > 0 && below > 0;
        }
    }
    spans
}

fn dot(a: [f64; 3], b: [f64; 3]) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn cross(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}
