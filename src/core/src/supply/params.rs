//! Packs, strings, meters.

use crate::cell::CellParams;
use crate::input_range::{InputRange, Kind};
use crate::units::{
    ElectricCharge, ElectricPotential, ElectricalResistance, Mass, Power, Ratio, ThermodynamicTemperature,
};

/// Age of a pack. A measured value always wins over the estimate from cycles.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Health {
    /// Charge cycles so far.
    pub cycles: u32,
    /// Capacity measured lately.
    pub measured_capacity: Option<ElectricCharge>,
    /// Resistance of one cell measured lately.
    pub measured_cell_resistance: Option<ElectricalResistance>,
}

impl Health {
    /// 0 to 1,000 cycles.
    pub const CYCLES: InputRange = InputRange::new("cycles", Kind::Count, 0.0, 1000.0);
}

/// One pack as it goes on board.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pack {
    /// Its cells when new.
    pub cell: CellParams,
    /// Cells in series.
    pub cells_in_series: u32,
    /// Mass of the pack with leads.
    pub mass: Mass,
    /// The maker's continuous discharge rating, multiples of capacity per hour.
    pub continuous_c_rating: Ratio,
    /// Age.
    pub health: Health,
    /// Rest voltage of the pack before the flight; none means full.
    pub rest_voltage: Option<ElectricPotential>,
    /// Cell temperature at the start.
    pub temperature: ThermodynamicTemperature,
}

impl Pack {
    /// 1 to 16.
    pub const CELLS_IN_SERIES: InputRange = InputRange::new("cells_in_series", Kind::Count, 1.0, 16.0);
    /// 0.02 to 20 kg.
    pub const MASS: InputRange = InputRange::new("pack_mass", Kind::Mass, 0.02, 20.0);
    /// 1 to 150 C.
    pub const CONTINUOUS_C_RATING: InputRange =
        InputRange::new("continuous_c_rating", Kind::CRate, 1.0, 150.0);
    /// −20 °C to 60 °C.
    pub const TEMPERATURE: InputRange =
        InputRange::new("pack_temperature", Kind::Temperature, 253.15, 333.15);
}

/// Packs in series.
#[derive(Debug, Clone, PartialEq)]
pub struct PackString {
    /// The packs.
    pub packs: Vec<Pack>,
}

impl PackString {
    /// 1 to 4.
    pub const PACKS: InputRange = InputRange::new("packs_in_series", Kind::Count, 1.0, 4.0);
}

/// Where a meter sits.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MeterPlace {
    /// All current passes it.
    Bus,
    /// Only the current of this string (from 0).
    String(usize),
}

impl MeterPlace {
    /// Stable key for files: `bus`, `string-1`, `string-2`, …
    pub fn key(self) -> String {
        match self {
            Self::Bus => "bus".to_owned(),
            Self::String(index) => format!("string-{}", index + 1),
        }
    }

    /// The place with this key; the string need not be there.
    pub fn from_key(key: &str) -> Option<Self> {
        match key.strip_prefix("string-") {
            None => (key == "bus").then_some(Self::Bus),
            Some(number) => number.parse::<usize>().ok()?.checked_sub(1).map(Self::String),
        }
    }
}

/// The meter on board that counts mAh.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Meter {
    /// Where it sits.
    pub place: MeterPlace,
    /// What it shows over what flows, minus one: +0.03 shows 3 % too much.
    pub scale_error: Ratio,
}

impl Meter {
    /// ±20 %.
    pub const SCALE_ERROR: InputRange = InputRange::new("meter_scale_error", Kind::Share, -0.2, 0.2);
}

/// All packs on board, joined.
#[derive(Debug, Clone, PartialEq)]
pub struct Supply {
    /// Strings in parallel.
    pub strings: Vec<PackString>,
    /// Resistance of each string's leads and connectors.
    pub string_resistance: ElectricalResistance,
    /// Resistance of the common leads.
    pub bus_resistance: ElectricalResistance,
    /// Constant load beside the motors (radio, stabiliser, camera), at the converter's output.
    pub auxiliary_power: Power,
    /// Efficiency of that converter.
    pub converter_efficiency: Ratio,
    /// The meter on board.
    pub meter: Meter,
}

impl Supply {
    /// 1 to 8.
    pub const STRINGS: InputRange = InputRange::new("strings_in_parallel", Kind::Count, 1.0, 8.0);
    /// 0 to 100 mΩ.
    pub const LEAD_RESISTANCE: InputRange = InputRange::new("lead_resistance", Kind::Resistance, 0.0, 0.1);
    /// 0 to 3 kW.
    pub const AUXILIARY_POWER: InputRange = InputRange::new("auxiliary_power", Kind::Power, 0.0, 3000.0);
    /// 0.5 to 1.
    pub const CONVERTER_EFFICIENCY: InputRange =
        InputRange::new("converter_efficiency", Kind::Share, 0.5, 1.0);
}
