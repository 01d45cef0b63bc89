//! All tables of numbers and words, by the records they belong to.

pub use super::airframe::*;
pub use super::bench::*;
pub use super::day_plan::*;
pub use super::fitness::*;
pub use super::flight::*;
pub use super::item::*;
pub use super::pack::*;
pub use super::pack_type::*;
pub use super::setup::*;
pub use super::site::*;
pub use super::supply::*;

pub use super::GROUPS;
use crate::fields::{Field, Number, Word};

/// Numbers of each row of a bench table.
pub static BENCH_ROW: [&Field<BenchRow>; 5] =
    [&BENCH_THROTTLE, &BENCH_VOLTAGE, &BENCH_CURRENT, &BENCH_THRUST, &BENCH_SPEED];
/// Numbers of each string.
pub static STRING: [&Field<PackString>; 2] = [&STRING_TEMPERATURE, &REST_CELL_VOLTAGE];
/// Numbers of each place of a free layout.
pub static PLACE: [&Field<Place>; 3] = [&PLACE_POSITION[0], &PLACE_POSITION[1], &PLACE_POSITION[2]];

/// Each word that a screen lets a crew choose.
pub static WORDS: [&Word; 9] = [
    &AIRFRAME_LAYOUT,
    &PACK_CHEMISTRY,
    &PACK_RESISTANCE_KIND,
    &PACK_TYPE_OF_PACK,
    &ITEM_KIND,
    &SETUP_AIRFRAME,
    &SETUP_SITE,
    &SETUP_METER,
    &DAY_SUPPLY,
];

/// Each number there is.
pub fn all() -> impl Iterator<Item = &'static Number> {
    let of_records = GROUPS.iter().flat_map(|group| group.iter()).map(|entry| entry.number());
    let rows = BENCH_ROW.iter().map(|field| &field.number);
    let strings = STRING.iter().map(|field| &field.number);
    let places = PLACE.iter().map(|field| &field.number);
    let sets = core::iter::once(&DAY_SETS.number);
    let wanted = WANTED_FLIGHT.iter().map(|field| &field.number);
    of_records.chain(rows).chain(strings).chain(places).chain(sets).chain(wanted)
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
    let sets = Some(&DAY_SETS.number).filter(|number| ends("sets[", number));
    let wanted = WANTED_FLIGHT.iter().map(|field| &field.number).find(|number| ends("flights[", number));
    whole.or(rows).or(strings).or(places).or(sets).or(wanted)
}
