//! What each rotor must carry in level hover with the true centre of gravity.
//!
//! Formula   least-norm t with Σ t = 1, Σ t x = 0, Σ t y = 0 about the centre of gravity, Σ ± t = 0 (yaw):
//!           t = Aᵀ (A Aᵀ)⁻¹ b
//! Units     shares of the total thrust
//! Source    pseudo-inverse control allocation, as a plain mixer does it (standard method)
//! Valid     layouts whose rotors surround the centre of gravity
//! Assumes   drag torque proportional to thrust, alike for all rotors; yaw is left to turn where the rotors
//!           cannot balance it (three single rotors)

use super::fault::LayoutFault;
use super::params::{Layout, Position, Spin};
use crate::refusal::Refusal;
use crate::units::Ratio;
use nalgebra::{DMatrix, DVector};
use uom::si::ratio::ratio;

/// Share of the total thrust of each rotor, sum one.
///
/// # Errors
/// `LayoutFault::CentreOfGravityOutside` where that asks a rotor to pull down, `Refusal::OutOfRange` for the
/// position.
pub fn hover_shares(layout: &Layout, centre_of_gravity: &Position) -> Result<Vec<Ratio>, Refusal> {
    centre_of_gravity.validate()?;
    let outside = Refusal::Layout(LayoutFault::CentreOfGravityOutside);
    let arms = Arm::all(layout, centre_of_gravity);
    let solved = least_norm(&arms, true).or_else(|| least_norm(&arms, false)).ok_or(outside)?;
    Ok(solved.into_iter().map(Ratio::new::<ratio>).collect())
}

/// Lever of a rotor about the centre of gravity, m, and the sense of its drag torque.
#[derive(Debug, Clone, Copy)]
pub(super) struct Arm {
    pub forward_m: f64,
    pub right_m: f64,
    pub yaw: f64,
}

impl Arm {
    pub fn all(layout: &Layout, centre_of_gravity: &Position) -> Vec<Self> {
        let arm = |place: &super::params::Place| Self {
            forward_m: (place.position.forward - centre_of_gravity.forward).value,
            right_m: (place.position.right - centre_of_gravity.right).value,
            yaw: if place.spin == Spin::Clockwise { -1.0 } else { 1.0 },
        };
        layout.places.iter().map(arm).collect()
    }
}

/// None where the system has no solution or a share is negative.
fn least_norm(arms: &[Arm], hold_yaw: bool) -> Option<Vec<f64>> {
    let rows = if hold_yaw { 4 } else { 3 };
    let entry = |row: usize, arm: &Arm| match row {
        0 => 1.0,
        1 => arm.forward_m,
        2 => arm.right_m,
        _ => arm.yaw,
    };
    let a =
        DMatrix::from_fn(rows, arms.len(), |row, column| arms.get(column).map_or(0.0, |arm| entry(row, arm)));
    let mut b = DVector::zeros(rows);
    b[0] = 1.0;
    let multipliers = (&a * a.transpose()).lu().solve(&b)?;
    let shares: Vec<f64> = (a.transpose() * multipliers).iter().copied().collect();
    let sum: f64 = shares.iter().sum();
    let is_sound = shares.iter().all(|share| *share >= -1e-9) && (sum - 1.0).abs() < 1e-6;
    is_sound.then(|| shares.into_iter().map(|share| share.max(0.0)).collect())
}
