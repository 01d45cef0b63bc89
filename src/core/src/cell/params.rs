//! What is known of a cell.

use crate::input_range::{InputRange, Kind};
use crate::units::{ElectricCharge, ElectricalResistance, Ratio};

crate::keyed! {
    /// Cell chemistries with a published or measured open-circuit curve on board.
    pub enum Chemistry {
        /// Lithium polymer, 4.20 V full.
        LithiumPolymer = "lithium-polymer",
        /// High-voltage lithium polymer, 4.35 V full.
        LithiumPolymerHighVoltage = "lithium-polymer-high-voltage",
        /// Lithium-ion, cylindrical cell.
        LithiumIonCylindrical = "lithium-ion-cylindrical",
    }
}

/// One cell (all parallel cells of a pack taken together) when new, at 25 °C.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CellParams {
    /// Chemistry.
    pub chemistry: Chemistry,
    /// Capacity.
    pub capacity: ElectricCharge,
    /// Internal resistance, ohmic and the slower part together, as it shows after some seconds under load.
    pub resistance: ElectricalResistance,
    /// How far it may be off by how it came to be known (`measure`): one standard deviation of its logarithm, beside what
    /// every pack is in doubt by.
    pub resistance_spread: Ratio,
}

impl CellParams {
    /// 0.5 to 100 Ah.
    pub const CAPACITY: InputRange = InputRange::new("capacity", Kind::Charge, 1_800.0, 360_000.0);
    /// 0.1 to 100 mΩ.
    pub const RESISTANCE: InputRange = InputRange::new("cell_resistance", Kind::Resistance, 0.000_1, 0.1);
}
