//! An aircraft: rotor places, bare frame, propulsion.

use liftmargin_core::card::Airframe as CoreAirframe;
use liftmargin_core::frame::Layout as CoreLayout;
use liftmargin_core::input_range::{InputRange, Kind};
use liftmargin_core::mass::Item as CoreItem;
use liftmargin_core::motor::{ControllerParams, MotorParams};
use liftmargin_core::rotor::RotorParams;
use serde::{Deserialize, Serialize};

use super::{Bench, Extra, parts};
use crate::fields::{Field, Word, field, fields, word};

/// An aircraft.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Airframe {
    /// Reference for setups.
    pub id: String,
    /// Shown name.
    pub name: String,
    /// Rotor places.
    pub layout: Layout,
    /// Bare frame with motors and electronics, no packs, no payload.
    pub frame_mass_kg: f64,
    /// Its centre of gravity: forward, right, down of the rotor centre.
    #[serde(default)]
    pub frame_position_m: [f64; 3],
    /// The maker's greatest all-up mass.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mass_limit_kg: Option<f64>,
    /// Equivalent flat-plate area; estimated by size if absent.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub drag_area_m2: Option<f64>,
    /// Greatest lean of the flight controller; the usual one if absent.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tilt_limit_deg: Option<f64>,
    /// Motor, rotor, speed controller.
    pub propulsion: Propulsion,
    /// Paths of the numbers that stand for want of better ones and that nobody has entered.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub assumed: Vec<String>,
    /// What flights have taught of its power.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub correction: Option<Learned>,
    /// Of a later version.
    #[serde(flatten)]
    pub extra: Extra,
}

/// What the log has taught of an airframe's power; made anew with each change of the log.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Learned {
    /// Whether cards use it.
    pub on: bool,
    /// Flights that it rests on.
    pub flights: u32,
    /// Power over the model's: half of what is plausible lies below.
    pub factor: f64,
    /// What a card uses: no less power than nine in ten of what is plausible assure.
    pub assured_factor: f64,
    /// One standard deviation that is left in doubt.
    pub spread: f64,
    /// After so many days a flight counts half; all count alike without.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fading_days: Option<f64>,
    /// The crew began anew then: flights before count no more. Milliseconds since 1970.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub since_unix_ms: Option<f64>,
    /// Of a later version.
    #[serde(flatten)]
    pub extra: Extra,
}

/// Rotor places by a named layout, or one by one.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Layout {
    /// Key of a named layout (`coaxial-quad`, `quad-cross`, …) or `free`.
    pub kind: String,
    /// Hub distance from the centre.
    pub arm_length_m: f64,
    /// Upper to lower rotor of a pair.
    #[serde(default)]
    pub coaxial_spacing_m: f64,
    /// Places of a `free` layout.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub places: Vec<Place>,
    /// Of a later version.
    #[serde(flatten)]
    pub extra: Extra,
}

/// One rotor of a free layout.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Place {
    /// Forward, right, down of the centre.
    pub position_m: [f64; 3],
    /// Seen from above.
    pub clockwise: bool,
    /// `single`, `upper` or `lower`.
    pub role: String,
    /// Of a later version.
    #[serde(flatten)]
    pub extra: Extra,
}

/// Motor, rotor, speed controller.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Propulsion {
    /// Rotor diameter.
    pub rotor_diameter_m: f64,
    /// Rotor pitch.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rotor_pitch_m: Option<f64>,
    /// k_V.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub velocity_constant_rpm_v: Option<f64>,
    /// Motor resistance.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub motor_resistance_ohm: Option<f64>,
    /// No-load current.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub no_load_current_a: Option<f64>,
    /// The maker's limit.
    pub motor_current_limit_a: f64,
    /// The maker's limit.
    pub controller_current_limit_a: f64,
    /// The bench table; an estimate is made without one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bench: Option<Bench>,
    /// Of a later version.
    #[serde(flatten)]
    pub extra: Extra,
}

parts!(Airframe { layout, propulsion, correction });
parts!(Learned {});
parts!(Layout { places });
parts!(Place {});
parts!(Propulsion { bench });

/// A flat disc to a pitch of two metres.
pub(crate) static PITCH: InputRange = InputRange::new("rotor_pitch", Kind::PartLength, 0.01, 2.0);

fields! {
    /// The frame.
    FRAME of Airframe {
        FRAME_MASS = (frame_mass_kg, Kilogram, CoreItem::MASS, "Mass", "As weighed, with plates, cables and motors; no packs, no payload.");
        MASS_LIMIT = (optional mass_limit_kg, Kilogram, CoreAirframe::MASS_LIMIT, "Greatest all-up mass", "As the frame's maker states it.");
        ARM_LENGTH = (layout.arm_length_m, Metre, CoreLayout::ARM_LENGTH, "Arm length", "From the centre to a rotor hub, seen from above.");
        COAXIAL_SPACING = (layout.coaxial_spacing_m, Metre, CoreLayout::COAXIAL_SPACING, "Rotor spacing of a pair", "From the upper rotor down to the lower one.");
        DRAG_AREA = (optional drag_area_m2, SquareMetre, CoreAirframe::DRAG_AREA, "Drag area", "Flat plate that drags as much as everything but the rotors; one flight in calm air tells it by speed and lean. Empty is the usual one of this mass, a third either way.");
        TILT_LIMIT = (optional tilt_limit_deg, Degree, CoreAirframe::TILT_LIMIT, "Greatest lean", "As set in the flight controller. Empty is 30°.");
    }
}

fields! {
    /// Where the bare frame's own centre of gravity is.
    FRAME_POSITION of Airframe {
        FRAME_FORWARD = (axis 0 of frame_position_m, "Position, forward", "Of the rotor centre.");
        FRAME_RIGHT = (axis 1 of frame_position_m, "Position, to the right", "Of the rotor centre.");
        FRAME_DOWN = (axis 2 of frame_position_m, "Position, down", "Of the rotor centre; above it is negative.");
    }
}

impl Airframe {
    /// The rotor that the bench table was measured with, m; none without a table.
    pub fn measured_rotor_m(&self) -> Option<f64> {
        let bench = self.propulsion.bench.as_ref()?;
        Some(bench.rotor_diameter_m.unwrap_or(self.propulsion.rotor_diameter_m))
    }
}

/// Another rotor; a bench table remembers the one it was measured with.
fn set_rotor(airframe: &mut Airframe, value: Option<f64>) {
    let before = airframe.propulsion.rotor_diameter_m;
    airframe.propulsion.rotor_diameter_m = value.unwrap_or_default();
    if let Some(bench) = &mut airframe.propulsion.bench
        && bench.rotor_diameter_m.is_none()
    {
        bench.rotor_diameter_m = Some(before);
    }
}

fields! {
    /// Motor, rotor, speed controller.
    PROPULSION of Airframe {
        ROTOR_DIAMETER = (@ ["propulsion.rotor_diameter_m"] false, Metre, RotorParams::DIAMETER, "Rotor diameter", "Tip to tip.", |airframe| Some(airframe.propulsion.rotor_diameter_m), set_rotor);
        ROTOR_PITCH = (optional propulsion.rotor_pitch_m, Metre, PITCH, "Rotor pitch", "As the rotor's maker states it.");
        VELOCITY_CONSTANT = (optional propulsion.velocity_constant_rpm_v, RpmPerVolt, MotorParams::VELOCITY_CONSTANT, "Motor k_V", "No-load speed for each volt, as the motor's maker states it.");
        MOTOR_CURRENT_LIMIT = (propulsion.motor_current_limit_a, Ampere, MotorParams::CURRENT_LIMIT, "Motor current limit", "As the motor's maker states it.");
        CONTROLLER_CURRENT_LIMIT = (propulsion.controller_current_limit_a, Ampere, ControllerParams::CURRENT_LIMIT, "Speed controller current limit", "Continuous, as its maker states it.");
        MOTOR_RESISTANCE = (optional propulsion.motor_resistance_ohm, Ohm, MotorParams::RESISTANCE, "Motor resistance", "Winding resistance; the bench table can tell it.");
        NO_LOAD_CURRENT = (optional propulsion.no_load_current_a, Ampere, MotorParams::NO_LOAD_CURRENT, "No-load current", "What the motor draws with no rotor on it.");
    }
}

/// Where a rotor of a free layout stands.
pub static PLACE_POSITION: [Field<Place>; 3] = [
    field!(axis 0 of position_m, "Position, forward", "Of the centre."),
    field!(axis 1 of position_m, "Position, to the right", "Of the centre."),
    field!(axis 2 of position_m, "Position, down", "Of the centre."),
];

/// The layout of an airframe.
pub static AIRFRAME_LAYOUT: Word = word!(Airframe, "the layout", layout.kind);

/// The three of the frame together.
pub(crate) static FRAME_AXES: [&Field<Airframe>; 3] = [&FRAME_FORWARD, &FRAME_RIGHT, &FRAME_DOWN];
