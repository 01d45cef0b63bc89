//! What a propulsion unit cannot do, or lacks; and what ends its thrust.

use core::fmt;

use crate::units::ElectricPotential;

/// What ends the thrust of a unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ThrustLimit {
    /// Full duty.
    BusVoltage,
    /// The motor's current limit.
    MotorCurrent,
    /// The speed controller's current limit.
    ControllerCurrent,
    /// The greatest thrust that the bench table measured: more may be possible, none is claimed.
    BenchTable,
}

impl ThrustLimit {
    /// Its stable name in files and reports.
    pub const fn key(self) -> &'static str {
        match self {
            Self::BusVoltage => "bus-voltage",
            Self::MotorCurrent => "motor-current",
            Self::ControllerCurrent => "controller-current",
            Self::BenchTable => "bench-table",
        }
    }
}

/// What a propulsion unit cannot do, or lacks.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum UnitFault {
    /// Not even the smallest thrust is possible at this bus voltage.
    NoThrust {
        /// What prevents it.
        limit: ThrustLimit,
        /// The bus voltage.
        bus_voltage: ElectricPotential,
    },
    /// A figure that is needed and was not given.
    Missing {
        /// Its standard name.
        field: &'static str,
    },
}

impl UnitFault {
    /// Standard name of the refused field.
    pub fn field(&self) -> &'static str {
        match self {
            Self::NoThrust { limit: ThrustLimit::BusVoltage, .. } => "bus_voltage",
            Self::NoThrust { limit: ThrustLimit::MotorCurrent, .. } => "motor_current_limit",
            Self::NoThrust { limit: ThrustLimit::ControllerCurrent, .. } => "controller_current_limit",
            Self::NoThrust { limit: ThrustLimit::BenchTable, .. } => "bench",
            Self::Missing { field } => field,
        }
    }
}

impl fmt::Display for UnitFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoThrust { bus_voltage, .. } => {
                write!(f, "{} allows no thrust at {:.2} V on the bus", self.field(), bus_voltage.value)
            }
            Self::Missing { field } => write!(f, "{field} is needed and was not given"),
        }
    }
}
