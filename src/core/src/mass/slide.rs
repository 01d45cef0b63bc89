//! How far to slide something on board so that the centre of gravity comes where it should be.
//!
//! Formula   d = (r_target − r_cg) m / m_moved, forward and right
//! Units     kg, m
//! Source    statics
//! Valid     items inside their bounds before and after the slide
//! Assumes   all that is moved moves together, level

use super::params::Item;
use super::sum::sum;
use crate::frame::Position;
use crate::input_error::BalanceFault;
use crate::input_error::InputError;
use crate::units::{Length, Mass};

/// A move in the rotor plane.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slide {
    /// Forward; backward if negative.
    pub forward: Length,
    /// Right; left if negative.
    pub right: Length,
}

/// The slide of the items `movable` (from 0; one named twice counts once) that brings the centre of gravity under the
/// rotor centre.
///
/// # Errors
/// `BalanceFault::NoSuchItem`, `BalanceFault::NothingToMove`, `InputError::OutOfRange` for an item, the all-up mass, or
/// an item that would end outside `Position::OFFSET`: this slide is longer than the aircraft.
pub fn slide_to_balance(items: &[Item], movable: &[usize]) -> Result<Slide, InputError> {
    slide_to(items, movable, Length::default(), Length::default())
}

/// The slide of the items `movable` that brings the centre of gravity to a point of the rotor plane.
///
/// # Errors
/// As `slide_to_balance`, and `InputError::OutOfRange` for the point.
pub fn slide_to(
    items: &[Item],
    movable: &[usize],
    forward: Length,
    right: Length,
) -> Result<Slide, InputError> {
    Position::OFFSET.check(forward.value)?;
    Position::OFFSET.check(right.value)?;
    let whole = sum(items)?;
    if let Some(item) = movable.iter().copied().find(|item| *item >= items.len()) {
        return Err(InputError::Balance(BalanceFault::NoSuchItem { item, items: items.len() }));
    }
    let moved: Vec<&Item> =
        items.iter().enumerate().filter(|(item, _)| movable.contains(item)).map(|(_, item)| item).collect();
    let moved_mass = moved.iter().fold(Mass::default(), |sum, item| sum + item.mass);
    let lever = whole.all_up_mass / moved_mass;
    if !lever.is_finite() {
        return Err(InputError::Balance(BalanceFault::NothingToMove));
    }
    let slide = Slide {
        forward: (forward - whole.centre_of_gravity.forward) * lever,
        right: (right - whole.centre_of_gravity.right) * lever,
    };
    for item in moved {
        Position::OFFSET.check((item.position.forward + slide.forward).value)?;
        Position::OFFSET.check((item.position.right + slide.right).value)?;
    }
    Ok(slide)
}
