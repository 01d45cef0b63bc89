//! The documented range of each input, as data: core refuses by it, screens explain by it, property tests draw from it.
//!
//! Formula: min <= value <= max but for the rounding of a unit conversion, NaN refused. Units: SI base units of the kind (kelvin for temperature, coulomb
//! for charge, rad/s/V for k_V). Source: common practice for the craft meant here, no source. This is the one
//! place where a plain SI number stands in for a quantity, because one table has to hold all kinds.

use crate::input_error::InputError;

/// Share by which a range may be missed: what converting units costs. An end of zero stays exact.
const SLACK: f64 = 1e-9;

/// What sort of quantity a range speaks of: chooses the units a screen offers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Kilogram.
    Mass,
    /// Metre, of terrain and distance.
    Length,
    /// Metre, of parts (rotor diameter, arm, offset of a mass).
    PartLength,
    /// Radian.
    Angle,
    /// Square metre.
    Area,
    /// Pascal.
    Pressure,
    /// Kelvin.
    Temperature,
    /// Dimensionless share of one.
    Share,
    /// Dimensionless number.
    Number,
    /// Metre per second.
    Speed,
    /// Second.
    Duration,
    /// Coulomb.
    Charge,
    /// Volt.
    Potential,
    /// Ohm.
    Resistance,
    /// Ampere.
    Current,
    /// Watt.
    Power,
    /// Radian per second per volt.
    VelocityConstant,
    /// Whole number of things.
    Count,
    /// Newton.
    Force,
    /// Radian per second.
    RotationalSpeed,
    /// Per hour: multiples of the capacity per hour.
    CRate,
    /// Kilogram per cubic metre.
    Density,
}

/// The documented range of one input.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct InputRange {
    /// Standard name of the input, in words with underscores, without a unit.
    pub field: &'static str,
    /// What sort of quantity it is.
    pub kind: Kind,
    /// Least allowed value, SI.
    pub min: f64,
    /// Greatest allowed value, SI.
    pub max: f64,
}

impl InputRange {
    /// A range; `min` and `max` in SI.
    pub const fn new(field: &'static str, kind: Kind, min: f64, max: f64) -> Self {
        Self { field, kind, min, max }
    }

    /// Passes `si_value` through if it lies in the range.
    ///
    /// # Errors
    /// `InputError::OutOfRange` outside the range or not a number.
    pub fn check(&'static self, si_value: f64) -> Result<f64, InputError> {
        if si_value >= self.min - SLACK * self.min.abs() && si_value <= self.max + SLACK * self.max.abs() {
            Ok(si_value)
        } else {
            Err(InputError::OutOfRange { range: self, value: si_value })
        }
    }
}
