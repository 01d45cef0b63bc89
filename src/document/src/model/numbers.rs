//! All tables of numbers, by the records they belong to.

pub(crate) use super::airframe::FRAME_AXES;
pub use super::airframe::{
    AIRFRAME_LAYOUT, ARM_LENGTH, COAXIAL_SPACING, CONTROLLER_CURRENT_LIMIT, DRAG_AREA, FRAME, FRAME_MASS,
    FRAME_POSITION, MASS_LIMIT, MOTOR_CURRENT_LIMIT, MOTOR_RESISTANCE, NO_LOAD_CURRENT, PLACE_POSITION,
    PROPULSION, ROTOR_DIAMETER, ROTOR_PITCH, VELOCITY_CONSTANT,
};
pub use super::bench::{
    BENCH, BENCH_CURRENT, BENCH_DENSITY, BENCH_SPEED, BENCH_THROTTLE, BENCH_THRUST, BENCH_VOLTAGE,
};
pub(crate) use super::item::ITEM_AXES;
pub use super::item::{ITEM, ITEM_KIND, ITEM_MASS, ITEM_POWER, ITEM_WEIGHT};
pub use super::pack::{
    PACK, PACK_CYCLES, PACK_MEASURED_CAPACITY, PACK_MEASURED_RESISTANCE, PACK_TYPE_OF_PACK,
};
pub use super::pack_type::{
    CAPACITY, CELL_RESISTANCE, CELLS_IN_SERIES, CONTINUOUS_C_RATING, PACK_CHEMISTRY, PACK_MASS, PACK_TYPE,
    TYPE_AGE, TYPE_CYCLES, TYPE_MEASURED_CAPACITY, TYPE_MEASURED_RESISTANCE,
};
pub use super::setup::{
    CLIMB_RATE, DESCENT_RATE, DISTANCE, FLIGHT, GO_AROUND, HEIGHT, LANDING, LOADED_CELL_FLOOR,
    MANOEUVRE_ALLOWANCE, RESERVE, RESERVE_CHARGE, RESERVE_SHARE, RESERVE_TIME, SET, SETUP_AIRFRAME,
    SETUP_SITE, TRANSIT_AIRSPEED, WARM_UP,
};
pub use super::site::{ELEVATION, GUST, QNH, RELATIVE_HUMIDITY, SITE, TEMPERATURE, WIND};
pub(crate) use super::supply::SUPPLY_AXES;
pub use super::supply::{
    AUXILIARY_POWER, BUS_RESISTANCE, CONVERTER_EFFICIENCY, LEAD_GAUGE, LEAD_LENGTH, METER_ERROR,
    REST_CELL_VOLTAGE, SETUP_METER, STRING_RESISTANCE, STRING_TEMPERATURE, SUPPLY_POSITION, WIRING,
};

use super::{BenchRow, PackString, Place};
use crate::fields::{Field, Group, Number, Word};

/// Each table that a screen shows as one.
pub static GROUPS: &[Group] = &[
    FRAME,
    FRAME_POSITION,
    PROPULSION,
    BENCH,
    PACK_TYPE,
    TYPE_AGE,
    PACK,
    ITEM,
    ITEM_WEIGHT,
    SITE,
    SET,
    FLIGHT,
    RESERVE,
    WIRING,
    SUPPLY_POSITION,
];

/// Numbers of each row of a bench table.
pub static BENCH_ROW: [&Field<BenchRow>; 5] =
    [&BENCH_THROTTLE, &BENCH_VOLTAGE, &BENCH_CURRENT, &BENCH_THRUST, &BENCH_SPEED];
/// Numbers of each string.
pub static STRING: [&Field<PackString>; 2] = [&STRING_TEMPERATURE, &REST_CELL_VOLTAGE];
/// Numbers of each place of a free layout.
pub static PLACE: [&Field<Place>; 3] = [&PLACE_POSITION[0], &PLACE_POSITION[1], &PLACE_POSITION[2]];

/// Each word that a screen lets a crew choose.
pub static WORDS: [&Word; 7] = [
    &AIRFRAME_LAYOUT,
    &PACK_CHEMISTRY,
    &PACK_TYPE_OF_PACK,
    &ITEM_KIND,
    &SETUP_AIRFRAME,
    &SETUP_SITE,
    &SETUP_METER,
];

/// Each number there is.
pub fn all() -> impl Iterator<Item = &'static Number> {
    let of_records = GROUPS.iter().flat_map(|group| group.iter()).map(|entry| entry.number());
    let rows = BENCH_ROW.iter().map(|field| &field.number);
    let strings = STRING.iter().map(|field| &field.number);
    let places = PLACE.iter().map(|field| &field.number);
    of_records.chain(rows).chain(strings).chain(places)
}

/// The number at a path below a record of a list: `propulsion.bench.rows[3].thrust_n`.
pub fn at(list: &str, path: &str) -> Option<&'static Number> {
    let of_records = GROUPS.iter().flat_map(|group| group.iter()).filter(|entry| entry.list().key() == list);
    let whole = of_records.map(|entry| entry.number()).find(|number| number.path == path);
    let ends = |prefix: &str, field: &Number| {
        path.starts_with(prefix) && path.split_once("].").is_some_and(|(_, end)| end == field.path)
    };
    let rows =
        BENCH_ROW.iter().map(|field| &field.number).find(|number| ends("propulsion.bench.rows[", number));
    let strings = STRING.iter().map(|field| &field.number).find(|number| ends("supply.strings[", number));
    let places = PLACE.iter().map(|field| &field.number).find(|number| ends("layout.places[", number));
    whole.or(rows).or(strings).or(places)
}
