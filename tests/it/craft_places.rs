//! Rotor places for the frame tests.

use liftmargin_core::frame::{Layout, LayoutKind, Place, Position, RotorRole, Spin, layout};
use liftmargin_core::units::Length;
use uom::si::length::meter;

pub fn metres(value: f64) -> Length {
    Length::new::<meter>(value)
}

pub fn at(forward: f64, right: f64) -> Position {
    Position { forward: metres(forward), right: metres(right), down: metres(0.1) }
}

pub fn named(kind: LayoutKind) -> Layout {
    layout(kind, metres(0.7), metres(0.15)).expect("inside the bounds")
}

/// Single rotors on a regular polygon, one letter a rotor.
pub fn places(arm_m: f64, first_azimuth_deg: f64, spins: &str) -> Layout {
    let step_deg = 360.0 / spins.len() as f64;
    let place = |(index, letter): (usize, char)| {
        let azimuth = (first_azimuth_deg + step_deg * index as f64).to_radians();
        Place {
            position: Position {
                forward: metres(arm_m * azimuth.cos()),
                right: metres(arm_m * azimuth.sin()),
                down: metres(0.0),
            },
            spin: if letter == 'P' { Spin::CounterClockwise } else { Spin::Clockwise },
            role: RotorRole::Single,
        }
    };
    Layout::from_places(spins.chars().enumerate().map(place).collect()).expect("inside the bounds")
}
