//! Rotor places of the file as core's.

use liftmargin_core::bound::{Bound, Kind};
use liftmargin_core::frame::{Layout, LayoutKind, Place, Spin};
use liftmargin_core::units::Length;
use uom::si::length::meter;

use crate::error::DocumentError;
use crate::keys;
use crate::quantity::{position, si};
use crate::schema;

/// In one plane to a metre apart.
const COAXIAL_SPACING: Bound = Bound::new("coaxial_spacing", Kind::PartLength, 0.0, 1.0);
/// More rotors than any craft meant here.
const PLACES: Bound = Bound::new("rotors", Kind::Count, 3.0, 24.0);

/// A layout by name or place by place, checked.
#[derive(Debug, Clone, PartialEq)]
pub enum LayoutParts {
    /// By name.
    Named {
        /// Which.
        kind: LayoutKind,
        /// Hub distance from the centre.
        arm_length: Length,
        /// Upper to lower rotor of a pair.
        coaxial_spacing: Length,
    },
    /// Place by place.
    Free(Vec<Place>),
}

pub(crate) fn layout_parts(layout: &schema::Layout) -> Result<LayoutParts, DocumentError> {
    let spacing = si("coaxial_spacing_m", layout.coaxial_spacing_m, &COAXIAL_SPACING)?;
    let Some(kind) = keys::layout("kind", &layout.kind)? else {
        return free(&layout.places).map(LayoutParts::Free);
    };
    let arm = si("arm_length_m", layout.arm_length_m, &Layout::ARM_LENGTH)?;
    Ok(LayoutParts::Named {
        kind,
        arm_length: Length::new::<meter>(arm),
        coaxial_spacing: Length::new::<meter>(spacing),
    })
}

fn free(places: &[schema::Place]) -> Result<Vec<Place>, DocumentError> {
    si("places", places.len() as f64, &PLACES)?;
    let places = places.iter().enumerate();
    places
        .map(|(index, place)| one(place).map_err(|fault| fault.under(&format!("places[{index}]"))))
        .collect()
}

fn one(place: &schema::Place) -> Result<Place, DocumentError> {
    Ok(Place {
        position: position("position_m", place.position_m)?,
        spin: if place.clockwise { Spin::Clockwise } else { Spin::CounterClockwise },
        role: keys::rotor_role("role", &place.role)?,
    })
}
