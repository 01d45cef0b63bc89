//! What can be wrong with a day's plan.

use core::fmt;

/// A day that cannot be scheduled.
#[derive(Debug, Clone, PartialEq)]
pub enum DayFault {
    /// A flight with a kind of set that is not there.
    NoSuchSet {
        /// The flight, from 0.
        flight: usize,
        /// The kind it asks for, from 0.
        set: usize,
        /// Kinds there are.
        kinds: usize,
    },
    /// A charge that takes more than the supply gives, even alone.
    ChargeAboveSupply {
        /// The flight after which it is, from 0.
        flight: usize,
        /// What it takes at most, W.
        needed_w: f64,
        /// What there is, W.
        supply_w: f64,
    },
    /// A charge whose power rises again: the supply could not be promised to the next one.
    ChargeRises {
        /// The flight after which it is, from 0.
        flight: usize,
    },
}

impl DayFault {
    /// Standard name of the field at fault.
    pub fn field(&self) -> &'static str {
        match self {
            Self::NoSuchSet { .. } => "flight_set",
            Self::ChargeAboveSupply { .. } => "supply_limit",
            Self::ChargeRises { .. } => "charge_steps",
        }
    }
}

impl fmt::Display for DayFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoSuchSet { flight, set, kinds } => {
                write!(f, "flight {} asks for set {}, there are {kinds}", flight + 1, set + 1)
            }
            Self::ChargeAboveSupply { flight, needed_w, supply_w } => write!(
                f,
                "charging after flight {} takes {needed_w:.0} W, the supply gives {supply_w:.0} W",
                flight + 1
            ),
            Self::ChargeRises { flight } => {
                write!(f, "the power of the charge after flight {} rises again", flight + 1)
            }
        }
    }
}
