//! Rotor places of the file as core's.

use liftmargin_core::frame::{Layout, LayoutFault, LayoutKind, Place, Spin, layout};
use liftmargin_core::input_error::InputError;
use liftmargin_core::units::Length;
use uom::si::length::meter;

use crate::error::DocumentError;
use crate::keys;
use crate::quantity::{position, refused, si};
use crate::schema;

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
    let Some(kind) = keys::layout("kind", &layout.kind)? else {
        return free(&layout.places).map(LayoutParts::Free);
    };
    let spacing = if kind.is_coaxial() {
        si("coaxial_spacing_m", layout.coaxial_spacing_m, &Layout::COAXIAL_SPACING)?
    } else {
        0.0
    };
    let arm = si("arm_length_m", layout.arm_length_m, &Layout::ARM_LENGTH)?;
    Ok(LayoutParts::Named {
        kind,
        arm_length: Length::new::<meter>(arm),
        coaxial_spacing: Length::new::<meter>(spacing),
    })
}

fn free(places: &[schema::Place]) -> Result<Vec<Place>, DocumentError> {
    si("places", places.len() as f64, &Layout::ROTORS)?;
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

/// The rotor places; paths below the layout.
pub(crate) fn places(parts: LayoutParts) -> Result<Layout, DocumentError> {
    let made = match parts {
        LayoutParts::Named { kind, arm_length, coaxial_spacing } => layout(kind, arm_length, coaxial_spacing),
        LayoutParts::Free(places) => Layout::from_places(places),
    };
    made.map_err(|refusal| match refusal {
        InputError::Layout(LayoutFault::UnpairedRotor { rotor }) => {
            refused(&format!("places[{rotor}].role"), refusal)
        }
        refusal => refused("places", refusal),
    })
}
