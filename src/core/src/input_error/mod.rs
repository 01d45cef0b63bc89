//! Why core will not compute: one typed error for the crate, naming field, value and allowed range.
//!
//! What can be wrong at a station stands here as data, so that the error knows no station and each knows the error.

mod balance_fault;
mod bench_fault;
mod cell_fault;
mod day_fault;
mod layout_fault;
mod supply_fault;
mod unit_fault;

use core::fmt;

use crate::input_range::InputRange;
pub use balance_fault::BalanceFault;
pub use bench_fault::{BenchColumn, BenchFault, UnitMixUp};
pub use cell_fault::CellFault;
pub use day_fault::DayFault;
pub use layout_fault::LayoutFault;
pub use supply_fault::SupplyFault;
pub use unit_fault::{ThrustLimit, UnitFault};

/// A refused input.
#[derive(Debug, Clone, PartialEq)]
pub enum InputError {
    /// A value outside its documented range, or not a number. `value` in SI.
    OutOfRange {
        /// The range it missed.
        range: &'static InputRange,
        /// The value that was given, SI.
        value: f64,
    },
    /// A bench table that cannot be used. Boxed: it is the largest by far, and every result of the crate carries this.
    Bench(Box<BenchFault>),
    /// A propulsion unit that lacks a figure, or gives no thrust at all.
    Unit(UnitFault),
    /// A rotor layout that cannot be used.
    Layout(LayoutFault),
    /// Items that cannot be balanced.
    Balance(BalanceFault),
    /// Packs that cannot be joined to a supply.
    Supply(SupplyFault),
    /// A day that cannot be scheduled.
    Day(DayFault),
    /// Runs of a cell that do not teach what is asked.
    Cell(CellFault),
}

impl InputError {
    /// Standard name of the refused field.
    pub fn field(&self) -> &'static str {
        match self {
            Self::OutOfRange { range, .. } => range.field,
            Self::Bench(_) => "bench_table",
            Self::Unit(fault) => fault.field(),
            Self::Layout(_) => "layout",
            Self::Balance(_) => "balance",
            Self::Supply(_) => "supply",
            Self::Day(fault) => fault.field(),
            Self::Cell(CellFault::BeyondRate { .. }) => "power",
            Self::Cell(_) => "runs",
        }
    }
}

impl From<BenchFault> for InputError {
    fn from(fault: BenchFault) -> Self {
        Self::Bench(Box::new(fault))
    }
}

impl fmt::Display for InputError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::OutOfRange { range, value } => {
                write!(f, "{} is {value}, allowed is {} to {} (SI)", range.field, range.min, range.max)
            }
            Self::Bench(fault) => fault.fmt(f),
            Self::Unit(fault) => fault.fmt(f),
            Self::Layout(fault) => fault.fmt(f),
            Self::Balance(fault) => fault.fmt(f),
            Self::Supply(fault) => fault.fmt(f),
            Self::Day(fault) => fault.fmt(f),
            Self::Cell(fault) => fault.fmt(f),
        }
    }
}

impl core::error::Error for InputError {}
