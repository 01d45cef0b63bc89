//! What is known of a motor and its speed controller.

use crate::input_range::{InputRange, Kind};
use crate::units::{ElectricCurrent, ElectricalResistance, Ratio, VelocityConstant};

/// A brushless motor as its equivalent direct-current circuit: ω = k_V (v − i R), torque = (i − I_0) / k_V.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MotorParams {
    /// k_V.
    pub velocity_constant: VelocityConstant,
    /// Winding resistance R, with what the bench fit could not tell apart from it.
    pub resistance: ElectricalResistance,
    /// No-load current I_0.
    pub no_load_current: ElectricCurrent,
    /// The maker's limit of motor current.
    pub current_limit: ElectricCurrent,
}

impl MotorParams {
    /// 20 to 5,000 rpm/V.
    pub const VELOCITY_CONSTANT: InputRange =
        InputRange::new("velocity_constant", Kind::VelocityConstant, 2.09, 524.0);
    /// 1 mΩ to 2 Ω.
    pub const RESISTANCE: InputRange = InputRange::new("motor_resistance", Kind::Resistance, 0.001, 2.0);
    /// 0 to 20 A.
    pub const NO_LOAD_CURRENT: InputRange = InputRange::new("no_load_current", Kind::Current, 0.0, 20.0);
    /// 1 to 500 A.
    pub const CURRENT_LIMIT: InputRange = InputRange::new("motor_current_limit", Kind::Current, 1.0, 500.0);
}

/// A speed controller: steps the bus voltage down by the duty (the throttle).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ControllerParams {
    /// Share of its input power that it passes on.
    pub efficiency: Ratio,
    /// The maker's limit of motor-side current.
    pub current_limit: ElectricCurrent,
}

impl ControllerParams {
    /// 0.8 to 1.
    pub const EFFICIENCY: InputRange = InputRange::new("controller_efficiency", Kind::Share, 0.8, 1.0);
    /// 1 to 500 A.
    pub const CURRENT_LIMIT: InputRange =
        InputRange::new("controller_current_limit", Kind::Current, 1.0, 500.0);
}
