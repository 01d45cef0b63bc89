//! Level hover with rotors stopped or weakened.
//!
//! Formula   greatest Σ t with 0 ≤ t_i ≤ w_i and Σ t_i m_i = 0, by its dual: min over λ of Σ w_i max(0, 1 − λ·m_i),
//!           exact at the meeting points of the planes λ·m_i = 1; m = (x, y) or (x, y, ± yaw)
//! Units     thrusts and w over the greatest thrust of one whole rotor
//! Source    linear-programming duality; proved against a general solver in tests/it/frame.rs
//! Valid     up to 16 rotors, w from 0 (stopped) to 1 (whole)
//! Assumes   the mixer re-solves for the remaining rotors, thrust acts at once; a static maximum with no control
//!           margin left. Whether a hover is controllable follows Stiemke's lemma: some hover has every remaining
//!           rotor strictly between stop and full unless a λ has λ·m_i ≥ 0 for all and > 0 for one

use super::params::{Layout, Position};
use super::shares::Arm;
use crate::input_error::InputError;
use crate::input_range::{InputRange, Kind};
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

/// How a level hover can be held by what thrust is left.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LevelHold {
    /// What can be held.
    pub capability: Capability,
    /// Greatest level thrust with heading held, over the full thrust of all rotors.
    pub greatest_heading_held: Ratio,
    /// Greatest level thrust with heading given up, over the full thrust of all rotors.
    pub greatest_turning: Ratio,
}

impl LevelHold {
    /// Greatest level thrust over full thrust while the heading is held in earnest; zero where it cannot be.
    pub fn with_heading(&self) -> Ratio {
        match self.capability {
            Capability::HoldsLevelAndHeading => self.greatest_heading_held,
            Capability::HoldsLevelTurning { .. } | Capability::CannotHoldLevel => Ratio::new::<ratio>(0.0),
        }
    }

    /// Greatest level thrust over full thrust, turning if that gives more; zero where level cannot be held.
    pub fn level(&self) -> Ratio {
        match self.capability {
            Capability::HoldsLevelAndHeading | Capability::HoldsLevelTurning { .. } => self.greatest_turning,
            Capability::CannotHoldLevel => Ratio::new::<ratio>(0.0),
        }
    }
}

/// One rotor stopped.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RotorOut {
    /// The stopped rotor, from 0.
    pub failed: usize,
    /// What the others can do.
    pub hold: LevelHold,
}

/// Share of its full thrust that a rotor still gives: 0 stopped, 1 whole.
pub const THRUST_LEFT: InputRange = InputRange::new("thrust_left", Kind::Share, 0.0, 1.0);

const TOLERANCE: f64 = 1e-9;
/// A lever counts from this share of the longest arm on: on paper a centre of gravity a few millimetres off lets a flat
/// quad balance on three rotors, one of them idling. Common practice, no source.
const AUTHORITY: f64 = 0.05;

/// A rotor that still turns: its lever over the longest, the sense of its drag torque, the thrust it has left.
#[derive(Debug, Clone, Copy)]
struct Left {
    moment: [f64; 3],
    thrust: f64,
}

/// Level hover with each rotor giving the share of its thrust that `thrust_left` says; rotors it does not name are
/// whole. Two stopped rotors are two zeros, a weak motor is a share between.
///
/// # Errors
/// `InputError::OutOfRange` for the position of the centre of gravity or a share.
pub fn level_hold(
    layout: &Layout,
    centre_of_gravity: &Position,
    thrust_left: &[Ratio],
) -> Result<LevelHold, InputError> {
    centre_of_gravity.validate()?;
    for share in thrust_left {
        THRUST_LEFT.check(share.value)?;
    }
    let arms = Arm::all(layout, centre_of_gravity);
    let size = arms.iter().fold(0.0_f64, |most, arm| most.max(arm.forward_m.hypot(arm.right_m)));
    let scale = if size > 0.0 { size } else { 1.0 };
    let left: Vec<Left> = arms
        .iter()
        .enumerate()
        .map(|(index, arm)| Left {
            moment: [arm.forward_m / scale, arm.right_m / scale, arm.yaw],
            thrust: thrust_left.get(index).map_or(1.0, |share| share.value),
        })
        .filter(|left| left.thrust > TOLERANCE)
        .collect();
    let turning: Vec<Left> =
        left.iter().map(|one| Left { moment: [one.moment[0], one.moment[1], 0.0], ..*one }).collect();
    let full = arms.len() as f64;
    let most_turning = greatest_turning(&turning);
    let greatest_heading_held = greatest_heading_held(&left, most_turning) / full;
    let greatest_turning = most_turning / full;
    // A boundary that only rounding leaves open is none: what the program calls zero is zero.
    let is_level = greatest_turning > TOLERANCE && strictly_inside(&turning, 2);
    let holds_heading = is_level && greatest_heading_held > TOLERANCE && strictly_inside(&left, 3);
    let capability = if holds_heading {
        Capability::HoldsLevelAndHeading
    } else if is_level {
        Capability::HoldsLevelTurning { heading_at_boundary: greatest_heading_held > TOLERANCE }
    } else {
        Capability::CannotHoldLevel
    };
    let [greatest_heading_held, greatest_turning] =
        [greatest_heading_held, greatest_turning].map(Ratio::new::<ratio>);
    Ok(LevelHold { capability, greatest_heading_held, greatest_turning })
}

/// Level hover with the rotor `failed` stopped; a rotor that is not there means none stopped.
///
/// # Errors
/// `InputError::OutOfRange` for the position of the centre of gravity.
pub fn rotor_out(
    layout: &Layout,
    centre_of_gravity: &Position,
    failed: usize,
) -> Result<RotorOut, InputError> {
    let hold = level_hold(layout, centre_of_gravity, &stopped(layout, &[failed]))?;
    Ok(RotorOut { failed, hold })
}

/// What each rotor has left with some of them stopped.
pub fn stopped(layout: &Layout, failed: &[usize]) -> Vec<Ratio> {
    let left = |index: usize| if failed.contains(&index) { 0.0 } else { 1.0 };
    (0..layout.places.len()).map(|index| Ratio::new::<ratio>(left(index))).collect()
}

/// Every rotor stopped in turn.
///
/// # Errors
/// As `rotor_out`.
pub fn rotor_out_all(layout: &Layout, centre_of_gravity: &Position) -> Result<Vec<RotorOut>, InputError> {
    (0..layout.places.len()).map(|failed| rotor_out(layout, centre_of_gravity, failed)).collect()
}

fn dual(left: &[Left], lambda: [f64; 3]) -> f64 {
    left.iter().map(|one| one.thrust * (1.0 - dot(lambda, one.moment)).max(0.0)).sum()
}

/// The least of the dual lies where as many planes meet as the levers span axes: one, two or three; with the heading
/// held there is no more than turning.
fn greatest_heading_held(left: &[Left], turning: f64) -> f64 {
    let mut least = turning;
    for (i, a) in left.iter().enumerate() {
        least = nearest_point(a.moment).map_or(least, |lambda| least.min(dual(left, lambda)));
        for (j, b) in left.iter().enumerate().skip(i + 1) {
            least = pair_point(a.moment, b.moment).map_or(least, |lambda| least.min(dual(left, lambda)));
            for c in left.iter().skip(j + 1) {
                if let Some(lambda) = meeting_point(a.moment, b.moment, c.moment) {
                    least = least.min(dual(left, lambda));
                }
            }
        }
    }
    least
}

/// The same of levers without yaw: where one or two planes meet.
fn greatest_turning(turning: &[Left]) -> f64 {
    let mut least = dual(turning, [0.0; 3]);
    for (i, a) in turning.iter().enumerate() {
        least = nearest_point(a.moment).map_or(least, |lambda| least.min(dual(turning, lambda)));
        for b in turning.iter().skip(i + 1) {
            least = pair_point(a.moment, b.moment).map_or(least, |lambda| least.min(dual(turning, lambda)));
        }
    }
    least
}

/// The shortest λ with λ·a = 1.
fn nearest_point(a: [f64; 3]) -> Option<[f64; 3]> {
    let square = dot(a, a);
    (square > TOLERANCE).then(|| a.map(|axis| axis / square))
}

/// The shortest λ with λ·a = λ·b = 1. By the cross product: levers all but opposite decide whether level can be held at
/// all, and a difference of squares would lose them.
fn pair_point(a: [f64; 3], b: [f64; 3]) -> Option<[f64; 3]> {
    let normal = cross(a, b);
    let square = dot(normal, normal);
    (square > TOLERANCE * TOLERANCE).then(|| {
        let (of_a, of_b) = ((dot(b, b) - dot(a, b)) / square, (dot(a, a) - dot(a, b)) / square);
        core::array::from_fn(|axis| of_a * a[axis] + of_b * b[axis])
    })
}

/// λ with λ·a = λ·b = λ·c = 1, by Cramer's rule.
fn meeting_point(a: [f64; 3], b: [f64; 3], c: [f64; 3]) -> Option<[f64; 3]> {
    let normals = [cross(b, c), cross(c, a), cross(a, b)];
    let determinant = dot(a, normals[0]);
    (determinant.abs() > TOLERANCE).then(|| {
        core::array::from_fn(|axis| (normals[0][axis] + normals[1][axis] + normals[2][axis]) / determinant)
    })
}

/// Whether zero moment lies inside what non-negative thrusts can make, in 2 or 3 axes, with levers that count: on both
/// sides of each plane through two of them some rotor must reach out by its share of authority.
fn strictly_inside(left: &[Left], axes: usize) -> bool {
    let candidates = |a: [f64; 3], b: [f64; 3]| if axes == 2 { [-a[1], a[0], 0.0] } else { cross(a, b) };
    let mut spans = false;
    for (i, a) in left.iter().enumerate() {
        for b in left.iter().skip(i + 1) {
            let normal = candidates(a.moment, b.moment);
            let length = dot(normal, normal).sqrt();
            if length < TOLERANCE.sqrt() {
                continue;
            }
            let (above, below) = left.iter().fold((0.0_f64, 0.0_f64), |(above, below), one| {
                let reach = one.thrust * dot(normal, one.moment);
                (above.max(reach), below.max(-reach))
            });
            if above.max(below) <= TOLERANCE * length {
                continue;
            }
            if above.min(below) <= AUTHORITY * length {
                return false;
            }
            spans = true;
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
