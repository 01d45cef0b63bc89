//! What can stand against a balance.

use core::fmt;

/// Items that cannot be balanced by sliding.
#[derive(Debug, Clone, PartialEq)]
pub enum BalanceFault {
    /// An item that is not on board.
    NoSuchItem {
        /// The item asked for, from 0.
        item: usize,
        /// Items on board.
        items: usize,
    },
    /// What may be moved has no mass.
    NothingToMove,
}

impl fmt::Display for BalanceFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoSuchItem { item, items } => {
                write!(f, "there is no item {}, {items} are on board", item.saturating_add(1))
            }
            Self::NothingToMove => {
                write!(f, "what may be moved has no mass: sliding it changes nothing")
            }
        }
    }
}
