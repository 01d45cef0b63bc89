//! What is on board.

use crate::frame::Position;
use crate::input_range::{InputRange, Kind};
use crate::units::{Mass, Power};

/// One thing on board with mass: frame, pack, stabiliser, camera, lens.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Item {
    /// Mass.
    pub mass: Mass,
    /// Where its own centre of gravity sits.
    pub position: Position,
    /// Electrical power it draws from the flight packs; zero if it has its own.
    pub power: Power,
}

impl Item {
    /// 0 to 60 kg.
    pub const MASS: InputRange = InputRange::new("mass", Kind::Mass, 0.0, 60.0);
    /// 0 to 1 kW.
    pub const POWER: InputRange = InputRange::new("power", Kind::Power, 0.0, 1000.0);
}

/// The sum of all items.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MassAndBalance {
    /// All-up mass (the trade says all-up weight).
    pub all_up_mass: Mass,
    /// Centre of gravity.
    pub centre_of_gravity: Position,
}

impl MassAndBalance {
    /// 0.1 to 300 kg.
    pub const ALL_UP_MASS: InputRange = InputRange::new("all_up_mass", Kind::Mass, 0.1, 300.0);
}
