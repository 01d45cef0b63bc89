//! The quantities that cross module edges, and the units used with them.
//!
//! Formula: none. Units: every type holds SI inside (`.value`). Source: the `uom` crate's unit tables.

pub use uom::si::f64::{
    Angle, AngularVelocity, Area, ElectricCharge, ElectricCurrent, ElectricPotential, ElectricalResistance,
    Energy, Force, HeatCapacity, Length, Mass, MassDensity, Power, Pressure, Ratio, TemperatureInterval,
    ThermodynamicTemperature, Time, Torque, Velocity,
};

/// Motor velocity constant k_V: no-load speed per volt.
///
/// uom has no named quantity for it. SI inside (rad/s/V); its inverse is the torque constant in N·m/A.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct VelocityConstant {
    rad_s_v: f64,
}

impl VelocityConstant {
    /// From the makers' unit, revolutions per minute per volt.
    pub fn from_rpm_per_volt(rpm_per_volt: f64) -> Self {
        Self { rad_s_v: rpm_per_volt * core::f64::consts::TAU / 60.0 }
    }

    /// From SI, rad/s per volt.
    pub const fn from_rad_s_v(rad_s_v: f64) -> Self {
        Self { rad_s_v }
    }

    /// In SI, rad/s per volt.
    pub const fn rad_s_v(self) -> f64 {
        self.rad_s_v
    }

    /// In the makers' unit, revolutions per minute per volt.
    pub fn rpm_per_volt(self) -> f64 {
        self.rad_s_v * 60.0 / core::f64::consts::TAU
    }
}
