//! What was not as it should be, in words.

use core::fmt;

use serde::{Deserialize, Serialize};

/// Why a text is no recording.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum TraceFault {
    /// No rows with figures.
    NoRows,
    /// Not plain text: bytes of nothing among the letters.
    NotText,
    /// No column that could be the time.
    NoTime,
    /// Neither voltage, current nor charge.
    NoFigures,
    /// A chosen column that the file has not got.
    NoSuchColumn {
        /// What it should hold.
        quantity: &'static str,
        /// The column, from 0.
        index: usize,
    },
    /// No row has a time.
    NoRowWithTime {
        /// Title of the column.
        column: String,
    },
}

impl TraceFault {
    /// What it concerns, as one word.
    pub const fn field(&self) -> &'static str {
        match self {
            Self::NoRows | Self::NotText => "file",
            Self::NoTime | Self::NoRowWithTime { .. } => "time",
            Self::NoFigures => "columns",
            Self::NoSuchColumn { quantity, .. } => quantity,
        }
    }

    /// What is allowed there.
    pub const fn allowed(&self) -> &'static str {
        match self {
            Self::NoRows => "rows of figures under a line of titles, or without one",
            Self::NotText => "plain text, one row a line (a workbook or UTF-16: save it as CSV in UTF-8)",
            Self::NoTime | Self::NoRowWithTime { .. } => "a column of seconds, milliseconds or clock times",
            Self::NoFigures => "a column of volts, amperes or mAh",
            Self::NoSuchColumn { .. } => "a column of the file",
        }
    }
}

impl fmt::Display for TraceFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoRows => write!(f, "the file has no rows of figures"),
            Self::NotText => write!(f, "this is no plain text: save it as CSV in UTF-8"),
            Self::NoTime => write!(f, "choose the column that holds the time"),
            Self::NoFigures => {
                write!(f, "choose a column that holds the voltage, the current or the charge used")
            }
            Self::NoSuchColumn { quantity, index } => {
                write!(f, "the file has no column {} for the {quantity}", index + 1)
            }
            Self::NoRowWithTime { column } => write!(f, "no row has a time in \"{column}\""),
        }
    }
}

impl core::error::Error for TraceFault {}

/// Something that was not as it should be, and what was made of it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum TraceNote {
    /// Rows out of order.
    OutOfOrder {
        /// How many.
        rows: usize,
    },
    /// The recorder started its time anew.
    Restarted {
        /// How often.
        times: usize,
    },
    /// The counter of charge was reset.
    CounterReset {
        /// How often.
        times: usize,
    },
    /// The counter did not start at zero.
    CounterRanBefore {
        /// What it showed first.
        from_mah: f64,
    },
    /// Nothing was recorded for a while.
    Gaps {
        /// How many.
        gaps: usize,
        /// The longest.
        longest_s: f64,
        /// All together.
        together_s: f64,
    },
    /// Titles stand again among the rows.
    RepeatedTitles {
        /// How often.
        times: usize,
    },
    /// Rows without a time that can be read.
    Unreadable {
        /// How many.
        rows: usize,
        /// Line of the first, from 1.
        first_line: usize,
    },
    /// Rows in which a figure is missing.
    Incomplete {
        /// How many.
        rows: usize,
    },
    /// Voltages or currents that no pack has.
    Dropouts {
        /// How many.
        values: usize,
    },
    /// Rows with one and the same time.
    SameTime {
        /// How many.
        rows: usize,
    },
    /// The counter and the current do not agree.
    CounterAgainstCurrent {
        /// By the counter.
        counter_mah: f64,
        /// By the current.
        current_mah: f64,
    },
    /// Discharge stands as a negative current.
    NegativeCurrent,
    /// The counter says what is left.
    CountsDown,
    /// More rows than are looked at.
    TooLong {
        /// Rows left out at the end.
        rows: usize,
    },
}

impl TraceNote {
    /// Its stable name.
    pub const fn key(&self) -> &'static str {
        match self {
            Self::OutOfOrder { .. } => "out-of-order",
            Self::Restarted { .. } => "recorder-restarted",
            Self::CounterReset { .. } => "counter-reset",
            Self::CounterRanBefore { .. } => "counter-ran-before",
            Self::Gaps { .. } => "gaps",
            Self::RepeatedTitles { .. } => "repeated-titles",
            Self::Unreadable { .. } => "unreadable-rows",
            Self::Incomplete { .. } => "incomplete-rows",
            Self::Dropouts { .. } => "dropouts",
            Self::SameTime { .. } => "same-time",
            Self::CounterAgainstCurrent { .. } => "counter-against-current",
            Self::NegativeCurrent => "negative-current",
            Self::CountsDown => "counter-down",
            Self::TooLong { .. } => "too-long",
        }
    }
}

impl fmt::Display for TraceNote {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::OutOfOrder { rows } => write!(f, "{rows} rows were out of order and are put in order"),
            Self::Restarted { times } => {
                write!(
                    f,
                    "the recorder started its time anew {times} ×: the parts are joined one after another"
                )
            }
            Self::CounterReset { times } => {
                write!(f, "the counter of charge was reset {times} ×: what it showed before is added")
            }
            Self::CounterRanBefore { from_mah } => {
                write!(
                    f,
                    "the counter showed {from_mah:.0} mAh already in the first row: they are not counted"
                )
            }
            Self::Gaps { gaps, longest_s, together_s } => write!(
                f,
                "{gaps} gaps, the longest {longest_s:.1} s, {together_s:.1} s together: bridged by a straight line"
            ),
            Self::RepeatedTitles { times } => write!(f, "the titles stand again {times} × among the rows"),
            Self::Unreadable { rows, first_line } => {
                write!(f, "{rows} rows cannot be read and are left out, the first in line {first_line}")
            }
            Self::Incomplete { rows } => {
                write!(f, "in {rows} rows a figure is missing: the one before holds")
            }
            Self::Dropouts { values } => {
                write!(f, "{values} voltages or currents that no pack has are left out")
            }
            Self::SameTime { rows } => write!(f, "{rows} rows have the time of the row before"),
            Self::CounterAgainstCurrent { counter_mah, current_mah } => write!(
                f,
                "the counter says {counter_mah:.0} mAh, the current {current_mah:.0} mAh: the counter is taken"
            ),
            Self::NegativeCurrent => {
                write!(f, "the current is negative on the whole: it is taken as discharge")
            }
            Self::CountsDown => write!(f, "the counter falls on the whole: it is taken as what is left"),
            Self::TooLong { rows } => write!(f, "the last {rows} rows are left out: the file is too long"),
        }
    }
}
