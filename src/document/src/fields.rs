//! Every number that a crew can enter, as data: where it stands in the file, its unit there, its range.
//!
//! Formula   SI = unit of the file, converted. Units: the file's own on the one side, SI on the other.
//! Source    the schema; ranges are core's. A screen shows a table of these and knows no field by name.

use liftmargin_core::air::Site as CoreSite;
use liftmargin_core::card::Airframe as CoreAirframe;
use liftmargin_core::cell::CellParams;
use liftmargin_core::flight::ReservePolicy;
use liftmargin_core::frame::{Layout, Position};
use liftmargin_core::input_range::InputRange;
use liftmargin_core::mass::Item as CoreItem;
use liftmargin_core::motor::{ControllerParams, MotorParams};
use liftmargin_core::profile::Profile as CoreProfile;
use liftmargin_core::rotor::{CoaxialParams, RotorParams};
use liftmargin_core::supply::{
    Health, Meter, Pack as CorePack, Supply as CoreSupply, WIRE_GAUGE, WIRE_LENGTH,
};

use crate::measure::Unit;
use crate::record::{List, Record};
use crate::resolve::{REST_CELL_VOLTAGE, ROTOR_PITCH};
use crate::schema::{Airframe, Bundle, Item, Pack, Setup, Site};

/// One number of a `T` of the file.
#[derive(Clone, Copy)]
pub struct Field<T> {
    /// Its path below the thing: `profile.height_m`.
    pub path: &'static str,
    /// Its range.
    pub range: &'static InputRange,
    /// Whether it may be left out.
    pub optional: bool,
    unit: Unit,
    read: fn(&T) -> Option<f64>,
    write: fn(&mut T, Option<f64>),
}

impl<T> Field<T> {
    /// The value, SI.
    pub fn get(&self, thing: &T) -> Option<f64> {
        (self.read)(thing).map(|value| self.unit.to_si(value))
    }

    /// Puts a value, SI. Nothing is put where a value is needed and none is given.
    pub fn set(&self, thing: &mut T, si: Option<f64>) {
        if si.is_some() || self.optional {
            (self.write)(thing, si.map(|si| without_noise(self.unit.from_si(si))));
        }
    }
}

/// A number of some thing in a bundle, whatever the thing is.
pub trait Entry: Sync {
    /// The list of the things that have it.
    fn list(&self) -> &'static str;
    /// Its path below the thing.
    fn path(&self) -> &'static str;
    /// Its range.
    fn range(&self) -> &'static InputRange;
    /// Whether it may be left out.
    fn optional(&self) -> bool;
    /// The value of one thing, SI.
    fn value(&self, bundle: &Bundle, id: &str) -> Option<f64>;
    /// Puts a value, SI, as `Field::set` does.
    fn put(&self, bundle: &mut Bundle, id: &str, si: Option<f64>);
}

impl<T: Record> Entry for Field<T> {
    fn list(&self) -> &'static str {
        T::LIST
    }

    fn path(&self) -> &'static str {
        self.path
    }

    fn range(&self) -> &'static InputRange {
        self.range
    }

    fn optional(&self) -> bool {
        self.optional
    }

    fn value(&self, bundle: &Bundle, id: &str) -> Option<f64> {
        T::find(bundle, id).and_then(|(_, thing)| self.get(thing))
    }

    fn put(&self, bundle: &mut Bundle, id: &str, si: Option<f64>) {
        if let Some(thing) = T::find_mut(bundle, id) {
            self.set(thing, si);
        }
    }
}

/// A word of some thing in a bundle: a reference, or one of the file's keys.
pub struct Word {
    /// The list of the things that have it.
    pub list: List,
    /// Its path below the thing.
    pub path: &'static str,
    /// What an undo takes back, in words.
    pub name: &'static str,
    read: for<'a> fn(&'a Bundle, &str) -> Option<&'a String>,
    place: for<'a> fn(&'a mut Bundle, &str) -> Option<&'a mut String>,
}

impl Word {
    /// The word of one thing; empty where the thing is gone.
    pub fn get(&self, bundle: &Bundle, id: &str) -> String {
        (self.read)(bundle, id).cloned().unwrap_or_default()
    }

    /// Puts another word.
    pub fn set(&self, bundle: &mut Bundle, id: &str, word: String) {
        if let Some(place) = (self.place)(bundle, id) {
            *place = word;
        }
    }
}

macro_rules! word {
    ($list:ident of $kind:ident, $name:literal, $first:ident $(. $rest:ident)*) => {
        Word {
            list: List::$list,
            path: concat!(stringify!($first) $(, ".", stringify!($rest))*),
            name: $name,
            read: |bundle, id| $kind::find(bundle, id).map(|(_, thing)| &thing.$first$(.$rest)*),
            place: |bundle, id| $kind::find_mut(bundle, id).map(|thing| &mut thing.$first$(.$rest)*),
        }
    };
}

/// Which airframe a setup flies.
pub static SETUP_AIRFRAME: Word = word!(Setups of Setup, "the choice of airframe", airframe);
/// Which site a setup is flown at.
pub static SETUP_SITE: Word = word!(Setups of Setup, "the choice of site", site);
/// Where the meter of a setup sits.
pub static SETUP_METER: Word = word!(Setups of Setup, "where the meter sits", supply.meter);
/// What kind of payload an item is.
pub static ITEM_KIND: Word = word!(Items of Item, "the kind", kind);
/// The chemistry of a pack.
pub static PACK_CHEMISTRY: Word = word!(Packs of Pack, "the chemistry", chemistry);
/// The layout of an airframe.
pub static AIRFRAME_LAYOUT: Word = word!(Airframes of Airframe, "the layout", layout.kind);

/// Drops what the conversion added: 20 °C comes back from kelvin as 20.000000000000057.
pub(crate) fn without_noise(value: f64) -> f64 {
    const DIGITS: f64 = 1e9;
    (value * DIGITS).round() / DIGITS
}

macro_rules! field {
    ($range:expr, $unit:ident, $first:ident $(. $rest:ident)*) => {
        Field {
            path: concat!(stringify!($first) $(, ".", stringify!($rest))*),
            range: &$range,
            optional: false,
            unit: Unit::$unit,
            read: |thing| Some(thing.$first$(.$rest)*),
            write: |thing, value| thing.$first$(.$rest)* = value.unwrap_or_default(),
        }
    };
    (optional $range:expr, $unit:ident, $first:ident $(. $rest:ident)*) => {
        Field {
            path: concat!(stringify!($first) $(, ".", stringify!($rest))*),
            range: &$range,
            optional: true,
            unit: Unit::$unit,
            read: |thing| thing.$first$(.$rest)*,
            write: |thing, value| thing.$first$(.$rest)* = value,
        }
    };
    (count $range:expr, $first:ident) => {
        Field {
            path: stringify!($first),
            range: &$range,
            optional: false,
            unit: Unit::Count,
            read: |thing| Some(f64::from(thing.$first)),
            write: |thing, value| thing.$first = value.unwrap_or_default() as u32,
        }
    };
    (axis $index:literal, $first:ident $(. $rest:ident)*) => {
        Field {
            path: concat!(stringify!($first) $(, ".", stringify!($rest))*, "[", $index, "]"),
            range: &Position::OFFSET,
            optional: false,
            unit: Unit::Metre,
            read: |thing| Some(thing.$first$(.$rest)*[$index]),
            write: |thing, value| thing.$first$(.$rest)*[$index] = value.unwrap_or_default(),
        }
    };
}

/// A site.
pub static SITE: [Field<Site>; 6] = [
    field!(CoreSite::ELEVATION, Metre, elevation_m),
    field!(CoreSite::QNH, Hectopascal, qnh_hpa),
    field!(CoreSite::TEMPERATURE, Celsius, temperature_c),
    field!(CoreSite::RELATIVE_HUMIDITY, Percent, relative_humidity_percent),
    field!(CoreSite::WIND, MetrePerSecond, wind_m_s),
    field!(CoreSite::GUST, MetrePerSecond, gust_m_s),
];

/// Where the set is.
pub static SET: [Field<Setup>; 2] = [
    field!(CoreProfile::DISTANCE, Metre, profile.distance_m),
    field!(CoreProfile::HEIGHT, Metre, profile.height_m),
];

/// How the way there and back is flown.
pub static FLIGHT: [Field<Setup>; 7] = [
    field!(CoreProfile::WARM_UP, Second, profile.warm_up_s),
    field!(CoreProfile::CLIMB_RATE, MetrePerSecond, profile.climb_rate_m_s),
    field!(CoreProfile::DESCENT_RATE, MetrePerSecond, profile.descent_rate_m_s),
    field!(CoreProfile::TRANSIT_AIRSPEED, MetrePerSecond, profile.transit_airspeed_m_s),
    field!(CoreProfile::MANOEUVRE_ALLOWANCE, Percent, profile.manoeuvre_allowance_percent),
    field!(CoreProfile::LANDING, Second, profile.landing_s),
    field!(CoreProfile::GO_AROUND, Second, profile.go_around_s),
];

/// What must be left.
pub static RESERVE: [Field<Setup>; 4] = [
    field!(ReservePolicy::SHARE, Percent, reserve.share_percent),
    field!(ReservePolicy::LOADED_CELL_FLOOR, Volt, reserve.loaded_cell_floor_v),
    field!(optional ReservePolicy::TIME, Second, reserve.time_s),
    field!(optional ReservePolicy::CHARGE, MilliampereHour, reserve.charge_mah),
];

/// Packs as they go on board.
pub static ON_BOARD: [Field<Setup>; 2] = [
    field!(CorePack::TEMPERATURE, Celsius, supply.pack_temperature_c),
    field!(optional REST_CELL_VOLTAGE, Volt, supply.rest_cell_voltage_v),
];

/// Leads, loads, and where the packs sit.
pub static WIRING: [Field<Setup>; 10] = [
    field!(Meter::SCALE_ERROR, Percent, supply.meter_error_percent),
    field!(CoreSupply::AUXILIARY_POWER, Watt, supply.auxiliary_power_w),
    field!(CoreSupply::CONVERTER_EFFICIENCY, One, supply.converter_efficiency),
    field!(CoreSupply::LEAD_RESISTANCE, Milliohm, supply.string_resistance_mohm),
    Field {
        path: "supply.lead_gauge_awg",
        range: &WIRE_GAUGE,
        optional: true,
        unit: Unit::Count,
        read: |setup| setup.supply.lead_gauge_awg.map(f64::from),
        write: |setup, value| setup.supply.lead_gauge_awg = value.map(|gauge| gauge as u32),
    },
    field!(optional WIRE_LENGTH, Metre, supply.lead_length_m),
    field!(CoreSupply::LEAD_RESISTANCE, Milliohm, supply.bus_resistance_mohm),
    field!(axis 0, supply.position_m),
    field!(axis 1, supply.position_m),
    field!(axis 2, supply.position_m),
];

/// A pack as bought.
pub static PACK: [Field<Pack>; 5] = [
    field!(count CorePack::CELLS_IN_SERIES, cells_in_series),
    field!(CellParams::CAPACITY, MilliampereHour, capacity_mah),
    field!(CorePack::MASS, Kilogram, mass_kg),
    field!(CellParams::RESISTANCE, Milliohm, cell_resistance_mohm),
    field!(CorePack::CONTINUOUS_C_RATING, CRate, continuous_c_rating),
];

/// A pack's age.
pub static PACK_AGE: [Field<Pack>; 3] = [
    field!(count Health::CYCLES, cycles),
    field!(optional CellParams::CAPACITY, MilliampereHour, measured_capacity_mah),
    field!(optional CellParams::RESISTANCE, Milliohm, measured_cell_resistance_mohm),
];

/// The mass of an item.
pub static ITEM_MASS: Field<Item> = field!(CoreItem::MASS, Kilogram, mass_kg);

/// The rest of an item.
pub static ITEM: [Field<Item>; 4] = [
    field!(CoreItem::POWER, Watt, power_w),
    field!(axis 0, position_m),
    field!(axis 1, position_m),
    field!(axis 2, position_m),
];

/// The frame.
pub static FRAME: [Field<Airframe>; 6] = [
    field!(CoreItem::MASS, Kilogram, frame_mass_kg),
    field!(optional CoreAirframe::MASS_LIMIT, Kilogram, mass_limit_kg),
    field!(Layout::ARM_LENGTH, Metre, layout.arm_length_m),
    field!(Layout::COAXIAL_SPACING, Metre, layout.coaxial_spacing_m),
    field!(optional CoaxialParams::WAKE_CONTRACTION, Percent, wake_contraction_percent),
    field!(optional CoreAirframe::DRAG_AREA, SquareMetre, drag_area_m2),
];

/// Where the bare frame's own centre of gravity is.
pub static FRAME_POSITION: [Field<Airframe>; 3] =
    [field!(axis 0, frame_position_m), field!(axis 1, frame_position_m), field!(axis 2, frame_position_m)];

/// Motor, rotor, speed controller.
pub static PROPULSION: [Field<Airframe>; 7] = [
    field!(RotorParams::DIAMETER, Metre, propulsion.rotor_diameter_m),
    field!(optional ROTOR_PITCH, Metre, propulsion.rotor_pitch_m),
    field!(optional MotorParams::VELOCITY_CONSTANT, RpmPerVolt, propulsion.velocity_constant_rpm_v),
    field!(MotorParams::CURRENT_LIMIT, Ampere, propulsion.motor_current_limit_a),
    field!(ControllerParams::CURRENT_LIMIT, Ampere, propulsion.controller_current_limit_a),
    field!(optional MotorParams::RESISTANCE, One, propulsion.motor_resistance_ohm),
    field!(optional MotorParams::NO_LOAD_CURRENT, Ampere, propulsion.no_load_current_a),
];

/// The air at the stand that a bench table was measured on.
pub static BENCH_DENSITY: Field<Airframe> = Field {
    path: "propulsion.bench.air_density_kg_m3",
    range: &RotorParams::AIR_DENSITY,
    optional: false,
    unit: Unit::KilogramPerCubicMetre,
    read: |airframe| airframe.propulsion.bench.as_ref().map(|bench| bench.air_density_kg_m3),
    write: |airframe, value| {
        if let (Some(bench), Some(value)) = (&mut airframe.propulsion.bench, value) {
            bench.air_density_kg_m3 = value;
        }
    },
};
