//! Wind at height.
//!
//! Formula   u(z) = u_10 (z / 10 m)^(1/7)
//! Units     m/s, m above ground
//! Source    power law over open, neutral ground, exponent 1/7 (common engineering value). Against the
//!           logarithmic law at 100 m it is 0.5 % low for short grass and 21 % low for a town or forest
//! Valid     0 to 500 m
//! Assumes   below 10 m the wind at 10 m, which is the cautious side

use crate::units::{Length, Velocity};
use uom::si::length::meter;

const EXPONENT: f64 = 1.0 / 7.0;
const REFERENCE_HEIGHT_M: f64 = 10.0;

/// Wind at a height above ground from the wind at 10 m.
pub fn wind_at(wind_at_10_m: Velocity, height: Length) -> Velocity {
    let height_m = height.get::<meter>();
    if height_m <= REFERENCE_HEIGHT_M {
        wind_at_10_m
    } else {
        wind_at_10_m * (height_m / REFERENCE_HEIGHT_M).powf(EXPONENT)
    }
}
