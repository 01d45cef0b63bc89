//! What can be wrong with a supply.

use core::fmt;

/// Packs that cannot be joined to a supply.
#[derive(Debug, Clone, PartialEq)]
pub enum SupplyFault {
    /// No string, or a string without a pack.
    Empty,
    /// Parallel strings with unequal numbers of cells in series.
    UnequalStrings {
        /// The string (from 0) that differs from the first.
        string: usize,
        /// Its cells in series.
        cells: u32,
        /// The first string's.
        expected: u32,
    },
    /// A meter on a string that is not there.
    NoSuchString {
        /// The string asked for, from 0.
        string: usize,
        /// Strings there are.
        strings: usize,
    },
    /// Fewer packs than are to go on board.
    TooFewPacks {
        /// Packs to go on board.
        needed: usize,
        /// Packs there are.
        packs: usize,
    },
}

impl fmt::Display for SupplyFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty => write!(f, "there is no pack in the supply, or a string has none"),
            Self::UnequalStrings { string, cells, expected } => write!(
                f,
                "string {} has {cells} cells in series, string 1 has {expected}: they must not be connected in parallel",
                string + 1
            ),
            Self::TooFewPacks { needed, packs } => {
                write!(f, "{needed} packs are to go on board, there are {packs}")
            }
            Self::NoSuchString { string, strings } => {
                write!(f, "the meter is on string {}, there are {strings}", string + 1)
            }
        }
    }
}
