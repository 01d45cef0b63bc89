//! What can be wrong with a bench table.

use core::fmt;

/// A bench table that cannot be used, with the row (counted from 1) where there is one.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum BenchFault {
    /// Fewer usable rows than unknowns.
    TooFewRows {
        /// Rows given.
        rows: usize,
        /// Rows needed.
        least: usize,
    },
}

impl fmt::Display for BenchFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooFewRows { rows, least } => {
                write!(f, "the bench table has {rows} usable rows, at least {least} are needed")
            }
        }
    }
}
