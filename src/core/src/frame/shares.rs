//! What each rotor must carry in level hover with the true centre of gravity.
//!
//! Formula   least-norm t with Σ t = 1, Σ t x = 0, Σ t y = 0 about the centre of gravity, Σ ± t = 0 (yaw):
//!           t = Aᵀ (A Aᵀ)⁻¹ b
//! Units     shares of the total thrust
//! Source    pseudo-inverse control allocation, as a plain mixer does it (standard method)
//! Valid     layouts whose rotors surround the centre of gravity
//! Assumes   drag torque proportional to thrust, alike for all rotors; yaw is left to turn where the rotors
//!           cannot balance it (three single rotors)

use super::params::{Layout, Position, Spin};
use crate::input_error::InputError;
use crate::input_error::LayoutFault;
use crate::units::Ratio;
use nalgebra::{Matrix4, Vector4};
use uom::si::ratio::ratio;

/// Share of the total thrust of each rotor, sum one.
///
/// # Errors
/// `LayoutFault::CentreOfGravityOutside` where that asks a rotor to pull down, `InputError::OutOfRange` for the
/// position.
pub fn hover_shares(layout: &Layout, centre_of_gravity: &Position) -> Result<Vec<Ratio>, InputError> {
    centre_of_gravity.validate()?;
    let outside = InputError::Layout(LayoutFault::CentreOfGravityOutside);
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
    let columns: Vec<Vector4<f64>> = arms
        .iter()
        .map(|arm| Vector4::new(1.0, arm.forward_m, arm.right_m, if hold_yaw { arm.yaw } else { 0.0 }))
        .collect();
    let mut square: Matrix4<f64> = columns.iter().map(|column| column * column.transpose()).sum();
    if !hold_yaw {
        // The row that asks for nothing must not make the system singular.
        square[(3, 3)] = 1.0;
    }
    let multipliers = square.try_inverse()? * Vector4::new(1.0, 0.0, 0.0, 0.0);
    let shares: Vec<f64> = columns.iter().map(|column| column.dot(&multipliers)).collect();
    let sum: f64 = shares.iter().sum();
    let is_sound = shares.iter().all(|share| *share >= -1e-9) && (sum - 1.0).abs() < 1e-6;
    is_sound.then(|| shares.into_iter().map(|share| share.max(0.0)).collect())
}
