//! A bench table as given, and the propulsion unit learned from it.

use crate::input_error::ThrustLimit;
use crate::input_range::{InputRange, Kind};
use crate::motor::{ControllerParams, MotorParams};
use crate::rotor::RotorParams;
use crate::units::{
    AngularVelocity, ElectricCurrent, ElectricPotential, ElectricalResistance, Force, Length, MassDensity,
    Power, Ratio, Torque, VelocityConstant,
};
use uom::si::ratio::ratio;

/// One row of a bench table: one rotor on a stand.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BenchRow {
    /// Duty of the speed controller, 0 to 1, where the table has it.
    pub throttle: Option<Ratio>,
    /// Voltage at the speed controller.
    pub voltage: ElectricPotential,
    /// Current into the speed controller.
    pub current: ElectricCurrent,
    /// Static thrust.
    pub thrust: Force,
    /// Rotor speed, where the table has it.
    pub speed: Option<AngularVelocity>,
}

/// A bench table.
#[derive(Debug, Clone, PartialEq)]
pub struct BenchTable {
    /// The rows, in any order.
    pub rows: Vec<BenchRow>,
    /// Air density at the stand.
    pub air_density: MassDensity,
}

/// What the makers state of a propulsion unit besides the table.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Declared {
    /// Rotor diameter.
    pub diameter: Length,
    /// Rotor pitch, for the estimate without a table.
    pub pitch: Option<Length>,
    /// k_V, unless unknown.
    pub velocity_constant: Option<VelocityConstant>,
    /// Motor resistance, where stated.
    pub resistance: Option<ElectricalResistance>,
    /// No-load current, where stated.
    pub no_load_current: Option<ElectricCurrent>,
    /// Limit of motor current.
    pub motor_current_limit: ElectricCurrent,
    /// Limit of the speed controller's current.
    pub controller_current_limit: ElectricCurrent,
}

impl Declared {
    /// The rotor's pitch inflow at this C_T: by its pitch, or the usual one.
    pub(super) fn pitch_inflow(&self, thrust_coefficient: Ratio) -> Ratio {
        self.pitch.map_or_else(RotorParams::usual_pitch_inflow, |pitch| {
            RotorParams::pitch_inflow(pitch / self.diameter, thrust_coefficient)
        })
    }
}

/// How well a unit is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Evidence {
    /// Fitted to a bench table.
    Bench {
        /// Rows used.
        rows: usize,
        /// Mean absolute error of electrical power on rows above a fifth of the greatest thrust.
        mean_power_error: Ratio,
        /// Whether the table carried rotor speed.
        with_speed: bool,
        /// Greatest thrust measured: `ceiling` claims none beyond it.
        greatest_thrust: Force,
        /// Where the table was measured with another rotor than the one that is flown.
        other_rotor: Option<OtherRotor>,
    },
    /// Typical coefficients only.
    Estimate {
        /// One standard deviation of the logarithm of C_T: of thrust at equal speed.
        thrust_spread: Ratio,
        /// One standard deviation of shaft power at equal thrust.
        shaft_power_spread: Ratio,
        /// One standard deviation of bus power at equal thrust.
        power_spread: Ratio,
    },
}

/// What is in doubt where a table was measured with another rotor.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OtherRotor {
    /// Diameter of the measured one.
    pub measured: Length,
    /// One standard deviation of the logarithm of C_T.
    pub thrust_spread: Ratio,
    /// One standard deviation of shaft power at equal thrust.
    pub shaft_power_spread: Ratio,
}

/// Thrust of one copy of a measured rotor against another, one standard deviation: common practice, no source.
const MEASURED_THRUST_SPREAD: f64 = 0.03;

impl Evidence {
    /// One standard deviation of thrust at equal speed, as a share.
    pub fn thrust_spread(&self) -> Ratio {
        match self {
            Self::Bench { other_rotor, .. } => {
                let other = other_rotor.map_or(0.0, |other| other.thrust_spread.value);
                Ratio::new::<ratio>(MEASURED_THRUST_SPREAD.hypot(other))
            }
            Self::Estimate { thrust_spread, .. } => *thrust_spread,
        }
    }

    /// Greatest thrust that was measured; none without a table.
    pub fn greatest_thrust(&self) -> Option<Force> {
        match self {
            Self::Bench { greatest_thrust, .. } => Some(*greatest_thrust),
            Self::Estimate { .. } => None,
        }
    }

    /// One standard deviation of bus power at equal thrust, as a share.
    pub fn power_spread(&self) -> Ratio {
        match self {
            Self::Bench { mean_power_error, other_rotor: None, .. } => *mean_power_error,
            Self::Bench { mean_power_error, other_rotor: Some(other), .. } => {
                Ratio::new::<ratio>(mean_power_error.value.hypot(other.shaft_power_spread.value))
            }
            Self::Estimate { power_spread, .. } => *power_spread,
        }
    }
}

/// Rotor, motor and speed controller of one arm position.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PropulsionUnit {
    /// Rotor.
    pub rotor: RotorParams,
    /// Motor.
    pub motor: MotorParams,
    /// Speed controller.
    pub controller: ControllerParams,
    /// How well all this is known.
    pub evidence: Evidence,
}

impl PropulsionUnit {
    /// One to some thirty cells in series.
    pub const BUS_VOLTAGE: InputRange = InputRange::new("bus_voltage", Kind::Potential, 2.0, 150.0);
}

/// A unit at work: everything but the duty, which also depends on the bus voltage.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OperatingPoint {
    /// Thrust.
    pub thrust: Force,
    /// Rotor speed.
    pub speed: AngularVelocity,
    /// Shaft torque.
    pub torque: Torque,
    /// Shaft power.
    pub shaft_power: Power,
    /// Voltage that the motor asks of its controller; duty = this over the bus voltage.
    pub motor_voltage: ElectricPotential,
    /// Motor-side current.
    pub motor_current: ElectricCurrent,
    /// Power drawn from the bus.
    pub bus_power: Power,
}

impl OperatingPoint {
    /// Duty (throttle) at this bus voltage; above 1 the bus voltage is too low for this thrust.
    pub fn duty(&self, bus_voltage: ElectricPotential) -> Ratio {
        self.motor_voltage / bus_voltage
    }
}

/// The greatest thrust of a unit at a bus voltage.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ThrustCeiling {
    /// The unit at that thrust.
    pub point: OperatingPoint,
    /// What ends it.
    pub ruled_by: ThrustLimit,
}
