//! What a fit did that its reader should know.

use core::fmt;

use crate::units::Ratio;

/// A remark on a fit.
#[derive(Debug, Clone, PartialEq)]
pub enum FitNote {
    /// Rows without thrust were left out.
    IdleRowsSkipped {
        /// The rows, counted from 1.
        rows: Vec<usize>,
    },
    /// Some rows have no rotor speed though others have.
    SpeedMissing {
        /// The rows, counted from 1.
        rows: Vec<usize>,
    },
    /// At more throttle the thrust fell because the voltage did: the stand's supply could not hold it.
    SupplySagged {
        /// The row, counted from 1.
        row: usize,
    },
    /// The throttle column agrees with the fitted duty and was used for it.
    ThrottleIsDuty,
    /// The throttle column is no duty (a stick or signal position): full throttle was taken at its word, the rest as bounds.
    ThrottleIsNotDuty {
        /// Greatest difference to the fitted duty.
        difference: Ratio,
    },
    /// No row says full throttle: the row of greatest power was taken for it.
    FullThrottleAssumed {
        /// The row, counted from 1.
        row: usize,
    },
    /// Neither speed nor k_V: rotor speed, and so the throttle, rests on a typical thrust coefficient.
    SpeedNotIdentified,
    /// Nothing in the table tells the motor's resistance from the rotor's power: it leans on a typical value.
    ResistanceNotIdentified,
    /// k_V was not given and is fitted.
    VelocityConstantFitted,
    /// The stated k_V does not give what was measured: the measured rows were taken, not the stated figure.
    VelocityConstantDoubtful {
        /// The row, counted from 1.
        row: usize,
        /// Voltage that the stated k_V needs over the voltage measured; fitted over stated k_V.
        voltage_ratio: Ratio,
    },
    /// The table shows a power coefficient that changes with speed.
    PowerCoefficientVaries {
        /// Exponent of speed.
        exponent: Ratio,
    },
    /// A bench table without torque cannot tell the controller's loss apart: C_P, I_0 and 1/R scale with it. It is held.
    ControllerLossHeld {
        /// The efficiency taken.
        efficiency: Ratio,
    },
    /// Far below usual efficiency: check the rotor diameter and the unit of thrust.
    LowEfficiency {
        /// Ideal induced power over electrical power, median.
        figure_of_merit: Ratio,
    },
}

impl fmt::Display for FitNote {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::IdleRowsSkipped { rows } => write!(f, "rows without thrust left out: {}", list(rows)),
            Self::SpeedMissing { rows } => write!(f, "rows without rotor speed: {}", list(rows)),
            Self::SupplySagged { row } => {
                write!(f, "row {row}: thrust fell because the stand's voltage did")
            }
            Self::ThrottleIsDuty => write!(f, "the throttle column is the duty and was used"),
            Self::ThrottleIsNotDuty { difference } => write!(
                f,
                "the throttle column is not the duty (up to {:.0} points apart): only full throttle was taken at its word",
                100.0 * difference.value
            ),
            Self::FullThrottleAssumed { row } => {
                write!(f, "no row says full throttle: row {row} was taken for it")
            }
            Self::SpeedNotIdentified => {
                write!(f, "rotor speed is not known: the throttle rests on a typical thrust coefficient")
            }
            Self::ResistanceNotIdentified => {
                write!(f, "the motor's resistance leans on a typical value: add a row at full throttle")
            }
            Self::VelocityConstantFitted => write!(f, "the velocity constant was not given and is fitted"),
            Self::VelocityConstantDoubtful { row, voltage_ratio } => write!(
                f,
                "row {row}: the stated velocity constant needs {:.0} % of the measured voltage; check it",
                100.0 * voltage_ratio.value
            ),
            Self::PowerCoefficientVaries { exponent } => {
                write!(f, "the power coefficient goes with speed to the power {:.2}", exponent.value)
            }
            Self::ControllerLossHeld { efficiency } => write!(
                f,
                "the speed controller's loss cannot be told apart: {:.0} % efficiency is assumed",
                100.0 * efficiency.value
            ),
            Self::LowEfficiency { figure_of_merit } => write!(
                f,
                "only {:.0} % of the power makes thrust: check the rotor diameter and the unit of thrust",
                100.0 * figure_of_merit.value
            ),
        }
    }
}

fn list(rows: &[usize]) -> String {
    rows.iter().map(usize::to_string).collect::<Vec<_>>().join(", ")
}
