//! All-up mass and centre of gravity.
//!
//! Formula   m = Σ m_i; r = Σ m_i r_i / m
//! Units     kg, m
//! Source    statics
//! Valid     items inside their bounds, all-up mass inside its own
//! Assumes   rigid

use super::params::{Item, MassAndBalance};
use crate::frame::Position;
use crate::input_error::InputError;
use crate::units::{Length, Mass};

/// Sums what is on board.
///
/// # Errors
/// `InputError::OutOfRange` for an item's mass, position or power, or the all-up mass.
pub fn sum(items: &[Item]) -> Result<MassAndBalance, InputError> {
    let mut mass = Mass::default();
    let mut moment = [0.0; 3];
    for item in items {
        Item::MASS.check(item.mass.value)?;
        Item::POWER.check(item.power.value)?;
        item.position.validate()?;
        mass += item.mass;
        let Position { forward, right, down } = item.position;
        for (sum, lever) in moment.iter_mut().zip([forward, right, down]) {
            *sum += (item.mass * lever).value;
        }
    }
    MassAndBalance::ALL_UP_MASS.check(mass.value)?;
    let [forward, right, down] =
        moment.map(|moment| Length::new::<uom::si::length::meter>(moment / mass.value));
    Ok(MassAndBalance { all_up_mass: mass, centre_of_gravity: Position { forward, right, down } })
}
