//! Packs on board, joined: strings, leads, meter.

use liftmargin_core::input_range::{InputRange, Kind};
use liftmargin_core::supply::{Meter, Pack as CorePack, Supply as CoreSupply, WIRE_GAUGE, WIRE_LENGTH};
use serde::{Deserialize, Serialize};

use super::{Extra, Setup, parts};
use crate::fields::{Field, Word, fields, part_fields, word};

/// Packs on board.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Supply {
    /// Strings in parallel.
    pub strings: Vec<PackString>,
    /// Where the packs sit: forward, right, down.
    #[serde(default)]
    pub position_m: [f64; 3],
    /// Leads and connectors of each string.
    pub string_resistance_mohm: f64,
    /// American wire gauge of each string's leads, where they are to be worked out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lead_gauge_awg: Option<u32>,
    /// Length of those leads, there and back.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lead_length_m: Option<f64>,
    /// Common leads.
    pub bus_resistance_mohm: f64,
    /// Constant load beside the motors and the items' own.
    pub auxiliary_power_w: f64,
    /// Converter for it, 0 to 1.
    pub converter_efficiency: f64,
    /// Where the meter sits: `bus`, or `string-1`, `string-2`, …
    pub meter: String,
    /// What the meter shows over what flows, per cent.
    #[serde(default)]
    pub meter_error_percent: f64,
    /// Of a later version.
    #[serde(flatten)]
    pub extra: Extra,
}

/// Packs in series.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct PackString {
    /// The packs.
    pub packs: Vec<PackRef>,
    /// Rest voltage per cell before the flight; absent means full.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rest_cell_voltage_v: Option<f64>,
    /// Of the cells at take-off; absent means as the air.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub temperature_c: Option<f64>,
    /// Of a later version.
    #[serde(flatten)]
    pub extra: Extra,
}

/// A pack on board: any one of a type, or a certain one. An empty id is a choice not made yet.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub enum PackRef {
    /// Any pack of this type.
    #[serde(rename = "type")]
    Type(String),
    /// This pack.
    #[serde(rename = "pack")]
    Pack(String),
}

impl Default for PackRef {
    fn default() -> Self {
        Self::Type(String::new())
    }
}

impl PackRef {
    /// The id that it refers to.
    pub fn id(&self) -> &str {
        match self {
            Self::Type(id) | Self::Pack(id) => id,
        }
    }

    /// As one word, for a list of choices; empty where none is made.
    pub fn key(&self) -> String {
        match self {
            Self::Type(id) | Self::Pack(id) if id.is_empty() => String::new(),
            Self::Type(id) => format!("type {id}"),
            Self::Pack(id) => format!("pack {id}"),
        }
    }

    /// From that word; none chosen for any other.
    pub fn from_key(key: &str) -> Self {
        match key.split_once(' ') {
            Some(("type", id)) => Self::Type(id.to_owned()),
            Some(("pack", id)) => Self::Pack(id.to_owned()),
            _ => Self::default(),
        }
    }
}

parts!(Supply { strings });
parts!(PackString {});

/// Strings that are alike, entered once.
#[derive(Debug, Clone, PartialEq)]
pub struct EqualStrings {
    /// How many.
    pub count: usize,
    /// Each of them.
    pub string: PackString,
}

/// Strings as people enter them: neighbours that are alike stand once, with their count.
pub fn entered_once(strings: &[PackString]) -> Vec<EqualStrings> {
    let alike = strings.chunk_by(PartialEq::eq);
    alike.filter_map(|same| Some(EqualStrings { count: same.len(), string: same.first()?.clone() })).collect()
}

/// The same strings one by one, as the file keeps them.
pub fn one_by_one(entered: &[EqualStrings]) -> Vec<PackString> {
    entered.iter().flat_map(|alike| vec![alike.string.clone(); alike.count]).collect()
}

/// The widest of all chemistries; each has its own range, which holds where the packs are known.
static REST_VOLTAGE: InputRange = InputRange::new("rest_voltage", Kind::Potential, 2.5, 4.37);

part_fields! {
    PackString {
        STRING_TEMPERATURE = (optional temperature_c, Celsius, CorePack::TEMPERATURE, "Pack temperature", "Of the cells at take-off; empty means as the air. Cold packs sag more.");
        REST_CELL_VOLTAGE = (optional rest_cell_voltage_v, Volt, REST_VOLTAGE, "Rest voltage", "Of one cell before the flight, nothing drawn; empty means fully charged.");
    }
}

fields! {
    /// Meter, leads and loads.
    WIRING of Setup {
        METER_ERROR = (supply.meter_error_percent, Percent, Meter::SCALE_ERROR, "Meter error", "What the meter on board shows too much, in percent of the true value.");
        AUXILIARY_POWER = (supply.auxiliary_power_w, Watt, CoreSupply::AUXILIARY_POWER, "Auxiliary load", "Radio, flight controller, lights: what runs beside the motors.");
        CONVERTER_EFFICIENCY = (supply.converter_efficiency, One, CoreSupply::CONVERTER_EFFICIENCY, "Converter efficiency", "Of the converter that feeds the auxiliary load.");
        STRING_RESISTANCE = (supply.string_resistance_mohm, Milliohm, CoreSupply::LEAD_RESISTANCE, "Lead resistance of each string", "Leads and connectors, there and back.");
        LEAD_GAUGE = (optional count supply.lead_gauge_awg, Count, WIRE_GAUGE, "Wire gauge (AWG)", "Of each string's leads: what they add is worked out from it and their length.");
        LEAD_LENGTH = (optional supply.lead_length_m, Metre, WIRE_LENGTH, "Length of wire", "There and back.");
        BUS_RESISTANCE = (supply.bus_resistance_mohm, Milliohm, CoreSupply::LEAD_RESISTANCE, "Lead resistance shared by all", "Leads and connectors that all strings share, there and back.");
    }
}

fields! {
    /// Where the packs sit.
    SUPPLY_POSITION of Setup {
        SUPPLY_FORWARD = (axis 0 of supply.position_m, "Position, forward", "Of the rotor centre.");
        SUPPLY_RIGHT = (axis 1 of supply.position_m, "Position, to the right", "Of the rotor centre.");
        SUPPLY_DOWN = (axis 2 of supply.position_m, "Position, down", "Of the rotor centre; above it is negative.");
    }
}

/// Where the meter of a setup sits.
pub static SETUP_METER: Word = word!(Setup, "where the meter sits", supply.meter);

/// The three of the packs' place together.
pub(crate) static SUPPLY_AXES: [&Field<Setup>; 3] = [&SUPPLY_FORWARD, &SUPPLY_RIGHT, &SUPPLY_DOWN];
