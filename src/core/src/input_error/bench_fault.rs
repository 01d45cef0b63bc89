//! What can be wrong with a bench table.

use core::fmt;

use crate::units::{Force, Power, Ratio};

/// A column of a bench table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BenchColumn {
    /// Throttle.
    Throttle,
    /// Voltage.
    Voltage,
    /// Current.
    Current,
    /// Thrust.
    Thrust,
    /// Rotor speed.
    Speed,
}

impl BenchColumn {
    /// The column's plain name.
    pub fn name(self) -> &'static str {
        match self {
            Self::Throttle => "throttle",
            Self::Voltage => "voltage",
            Self::Current => "current",
            Self::Thrust => "thrust",
            Self::Speed => "speed",
        }
    }
}

/// A unit that a thrust was probably given in, and the one it was read as.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct UnitMixUp {
    /// What the figures probably are.
    pub probably: &'static str,
    /// What they were read as.
    pub read_as: &'static str,
}

/// A bench table that cannot be used, with the row (counted from 1) where there is one.
#[derive(Debug, Clone, PartialEq)]
pub enum BenchFault {
    /// Fewer usable rows than unknowns.
    TooFewRows {
        /// Rows given.
        rows: usize,
        /// Rows needed.
        least: usize,
    },
    /// A figure that is infinite or not a number.
    NotFinite {
        /// The row.
        row: usize,
        /// The column.
        column: BenchColumn,
    },
    /// A voltage or current that is zero or negative, or a thrust that pulls the wrong way.
    NotPositive {
        /// The row.
        row: usize,
        /// The column.
        column: BenchColumn,
        /// The figure, SI.
        value: f64,
    },
    /// A throttle outside 0 to 1.
    Throttle {
        /// The row.
        row: usize,
        /// The throttle.
        value: Ratio,
    },
    /// Thrust falls while throttle or electrical power rises.
    ThrustFalls {
        /// The row with less thrust.
        row: usize,
        /// The row before it in order of throttle or power.
        after: usize,
        /// Thrust of `row`.
        thrust: Force,
        /// Thrust of `after`.
        thrust_before: Force,
        /// Throttle or electrical power.
        over: &'static str,
    },
    /// Less electrical power than the ideal rotor of this diameter needs.
    BelowIdealPower {
        /// The row.
        row: usize,
        /// Electrical power in the table.
        power: Power,
        /// Ideal induced power at its thrust.
        ideal: Power,
        /// A mixed-up unit of thrust that would explain it.
        mix_up: Option<UnitMixUp>,
    },
    /// So much power for the thrust that a unit must be wrong.
    AboveAllPower {
        /// The row.
        row: usize,
        /// Electrical power in the table.
        power: Power,
        /// Ideal induced power at its thrust.
        ideal: Power,
        /// A mixed-up unit of thrust that would explain it.
        mix_up: Option<UnitMixUp>,
    },
    /// A rotor speed that no rotor of this diameter has at this thrust.
    Speed {
        /// The row.
        row: usize,
        /// C_T that the row would mean.
        thrust_coefficient: Ratio,
        /// C_T of the table's other rows, where they agree on one.
        others: Option<Ratio>,
    },
    /// Voltage varies as a current does, and the current hardly at all.
    ColumnsSwapped,
    /// No set of coefficients comes near the table.
    PoorFit {
        /// The row that fits worst.
        row: usize,
        /// Mean error of power on rows above a fifth of the greatest thrust.
        mean_power_error: Ratio,
    },
    /// The fitted unit would not reach a row of its own table.
    OutOfReach {
        /// The row.
        row: usize,
        /// Duty it would need; none where the rotor would be better than an ideal one.
        duty: Option<Ratio>,
    },
    /// The fit did not converge.
    NotConverged,
}

impl fmt::Display for BenchFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooFewRows { rows, least } => {
                write!(f, "the bench table has {rows} usable rows, at least {least} are needed")
            }
            Self::NotFinite { row, column } => write!(f, "row {row}: {} is not a number", column.name()),
            Self::NotPositive { row, column, value } => {
                write!(f, "row {row}: {} is {value}, it must be above zero", column.name())
            }
            Self::Throttle { row, value } => {
                write!(f, "row {row}: throttle is {}, allowed is 0 to 1 (100 %)", value.value)
            }
            Self::ThrustFalls { row, after, thrust, thrust_before, over } => write!(
                f,
                "row {row}: thrust falls from {:.2} N (row {after}) to {:.2} N while {over} rises",
                thrust_before.value, thrust.value
            ),
            Self::BelowIdealPower { row, power, ideal, mix_up } => {
                write!(
                    f,
                    "row {row}: {:.1} W is less than the {:.1} W that an ideal rotor of this diameter needs",
                    power.value, ideal.value
                )?;
                write_mix_up(f, *mix_up, "; check the unit of thrust and the rotor diameter")
            }
            Self::AboveAllPower { row, power, ideal, mix_up } => {
                write!(
                    f,
                    "row {row}: {:.1} W for a thrust that needs {:.2} W ideally is too much for any rotor",
                    power.value, ideal.value
                )?;
                write_mix_up(f, *mix_up, "; check the unit of thrust and the rotor diameter")
            }
            Self::Speed { row, thrust_coefficient, others } => {
                write!(f, "row {row}: speed and thrust mean C_T = {:.3}", thrust_coefficient.value)?;
                match others {
                    Some(others) => write!(f, ", the other rows mean {:.3}", others.value),
                    None => {
                        write!(
                            f,
                            ", allowed is 0.01 to 0.3; check the diameter and whether the speed is electrical"
                        )
                    }
                }
            }
            Self::ColumnsSwapped => {
                write!(f, "voltage and current look swapped: the voltage varies, the current does not")
            }
            Self::PoorFit { row, mean_power_error } => write!(
                f,
                "no rotor and motor fit the table: power is off by {:.0} % on average, worst in row {row}",
                100.0 * mean_power_error.value
            ),
            Self::OutOfReach { row, duty: Some(duty) } => write!(
                f,
                "row {row}: the motor and rotor that fit the table would need {:.0} % throttle there; check voltage and \
                 velocity constant",
                100.0 * duty.value
            ),
            Self::OutOfReach { row, duty: None } => write!(
                f,
                "row {row}: only a rotor better than an ideal one gives this thrust; check diameter, current and velocity \
                 constant"
            ),
            Self::NotConverged => write!(f, "the fit of the bench table did not converge"),
        }
    }
}

fn write_mix_up(f: &mut fmt::Formatter<'_>, mix_up: Option<UnitMixUp>, otherwise: &str) -> fmt::Result {
    match mix_up {
        Some(UnitMixUp { probably, read_as }) => {
            write!(f, "; the thrust looks like {probably} read as {read_as}")
        }
        None => f.write_str(otherwise),
    }
}
