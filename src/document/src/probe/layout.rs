//! A layout with rotors stopped or weak.

use liftmargin_core::frame::{
    Capability, Layout, Place, Position, RotorRole, Spin, layout as named, level_hold,
};
use liftmargin_core::units::{Length, Ratio};
use serde::{Deserialize, Serialize};
use uom::si::length::meter;
use uom::si::ratio::ratio;

use crate::error::DocumentError;
use crate::keys;
use crate::quantity::refused;

#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields, default)]
#[expect(clippy::struct_field_names, reason = "units stand in the names")]
struct Point {
    forward_m: f64,
    right_m: f64,
    down_m: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Rotor {
    position: Point,
    clockwise: bool,
    #[serde(default = "single")]
    role: String,
}

fn single() -> String {
    RotorRole::Single.key().to_owned()
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Named {
    kind: String,
    arm_length_m: f64,
    #[serde(default)]
    coaxial_spacing_m: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Weak {
    rotor: usize,
    thrust_left: f64,
}

/// Asks of a layout.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct LayoutQuestion {
    named: Option<Named>,
    places: Option<Vec<Rotor>>,
    #[serde(default)]
    stopped: Vec<usize>,
    #[serde(default)]
    weak: Vec<Weak>,
    #[serde(default)]
    centre_of_gravity: Point,
}

/// Shares of the full thrust of all rotors.
#[derive(Debug, Serialize)]
pub(super) struct LayoutAnswer {
    rotors: usize,
    capability: &'static str,
    greatest_heading_held: f64,
    greatest_turning: f64,
}

pub(super) fn layout(asked: &LayoutQuestion) -> Result<LayoutAnswer, DocumentError> {
    let layout = places(asked)?;
    let rotors = layout.places.len();
    let mut left = vec![Ratio::new::<ratio>(1.0); rotors];
    let weak = asked.weak.iter().map(|weak| (weak.rotor, weak.thrust_left, "weak"));
    for (rotor, share, path) in weak.chain(asked.stopped.iter().map(|&rotor| (rotor, 0.0, "stopped"))) {
        let place = left.get_mut(rotor).ok_or_else(|| DocumentError::Contradiction {
            path: path.to_owned(),
            value: rotor.to_string(),
            allowed: format!("rotors 0 to {}", rotors.saturating_sub(1)),
        })?;
        *place = Ratio::new::<ratio>(share);
    }
    let hold = level_hold(&layout, &position(&asked.centre_of_gravity), &left)
        .map_err(|refusal| refused("", refusal))?;
    let capability = match hold.capability {
        Capability::HoldsLevelAndHeading => "holds-level-and-heading",
        Capability::HoldsLevelTurning { heading_at_boundary: false } => "holds-level-turning",
        Capability::HoldsLevelTurning { heading_at_boundary: true } => {
            "holds-level-turning-heading-at-boundary"
        }
        Capability::CannotHoldLevel => "cannot-hold-level",
    };
    Ok(LayoutAnswer {
        rotors,
        capability,
        greatest_heading_held: hold.greatest_heading_held.value,
        greatest_turning: hold.greatest_turning.value,
    })
}

fn places(asked: &LayoutQuestion) -> Result<Layout, DocumentError> {
    let made = match (&asked.named, &asked.places) {
        (Some(by), None) => {
            let kind = keys::layout("named.kind", &by.kind)?.ok_or_else(|| DocumentError::Contradiction {
                path: "named.kind".to_owned(),
                value: by.kind.clone(),
                allowed: "a named layout; rotor by rotor stands in places".to_owned(),
            })?;
            let [arm, spacing] = [by.arm_length_m, by.coaxial_spacing_m].map(Length::new::<meter>);
            named(kind, arm, spacing)
        }
        (None, Some(rotors)) => {
            let places: Result<Vec<Place>, DocumentError> = rotors.iter().enumerate().map(place).collect();
            Layout::from_places(places?)
        }
        _ => {
            return Err(DocumentError::Missing {
                path: "named".to_owned(),
                allowed: "either named or places".to_owned(),
            });
        }
    };
    made.map_err(|refusal| refused("", refusal))
}

fn place((index, rotor): (usize, &Rotor)) -> Result<Place, DocumentError> {
    Ok(Place {
        position: position(&rotor.position),
        spin: if rotor.clockwise { Spin::Clockwise } else { Spin::CounterClockwise },
        role: keys::rotor_role(&format!("places[{index}].role"), &rotor.role)?,
    })
}

fn position(point: &Point) -> Position {
    let [forward, right, down] = [point.forward_m, point.right_m, point.down_m].map(Length::new::<meter>);
    Position { forward, right, down }
}
