//! Rotor places of the file as core's.

use liftmargin_core::frame::{Layout, LayoutFault, LayoutKind, Place, Spin, layout};
use liftmargin_core::input_error::InputError;
use liftmargin_core::units::Length;
use uom::si::length::meter;

use crate::error::DocumentError;
use crate::keys;
use crate::model::{self, numbers as n};
use crate::quantity::{position, refused};

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

/// Paths below the airframe.
pub(crate) fn layout_parts(airframe: &model::Airframe) -> Result<LayoutParts, DocumentError> {
    let Some(kind) = keys::layout("layout.kind", &airframe.layout.kind)? else {
        return free(&airframe.layout.places).map(LayoutParts::Free).map_err(|fault| fault.under("layout"));
    };
    let spacing = if kind.is_coaxial() { n::COAXIAL_SPACING.si(airframe)? } else { 0.0 };
    Ok(LayoutParts::Named {
        kind,
        arm_length: Length::new::<meter>(n::ARM_LENGTH.si(airframe)?),
        coaxial_spacing: Length::new::<meter>(spacing),
    })
}

fn free(places: &[model::Place]) -> Result<Vec<Place>, DocumentError> {
    Layout::ROTORS.check(places.len() as f64).map_err(|refusal| DocumentError::Refused {
        path: "places".to_owned(),
        value: places.len().to_string(),
        refusal,
        number: None,
    })?;
    let places = places.iter().enumerate();
    places
        .map(|(index, place)| one(place).map_err(|fault| fault.under(&format!("places[{index}]"))))
        .collect()
}

fn one(place: &model::Place) -> Result<Place, DocumentError> {
    Ok(Place {
        position: position(n::PLACE, place)?,
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
