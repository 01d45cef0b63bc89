//! What can be wrong with learning from a cell's runs.

use core::fmt;

use crate::units::Power;

/// Runs that teach nothing, or not what is asked.
#[derive(Debug, Clone, PartialEq)]
pub enum CellFault {
    /// Runs of different chemistry or capacity.
    NotOneCell,
    /// A run without a discharge.
    NoDischarge,
    /// A rate that no run came near.
    BeyondRate {
        /// Power asked for.
        asked: Power,
        /// Least that may be asked.
        least: Power,
        /// Greatest that may be asked.
        greatest: Power,
    },
}

impl fmt::Display for CellFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotOneCell => write!(f, "the runs are not of one cell: chemistry or capacity differ"),
            Self::NoDischarge => write!(f, "a run takes no charge out of the cell"),
            Self::BeyondRate { asked, least, greatest } => write!(
                f,
                "{:.1} W a cell is beyond the rates that the runs teach, {:.1} to {:.1} W: measure a run nearer to it",
                asked.value, least.value, greatest.value
            ),
        }
    }
}
