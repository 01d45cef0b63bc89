//! The log for others: as a table for a spreadsheet, and as a file with all that its flights need.

use super::view::{LogFilter, rows};
use crate::error::DocumentError;
use crate::model::{Airframe, Bundle, Flight};
use crate::open;
use crate::present::moment::iso;
use crate::record::Record;

const TITLES: [&str; 14] = [
    "id",
    "lift_off_utc",
    "setup",
    "place",
    "airframe",
    "flight_time_s",
    "used_mah",
    "predicted_mah",
    "band_low_mah",
    "band_high_mah",
    "power_factor",
    "rest_cell_voltage_v",
    "excluded",
    "remark",
];

/// The flights that are wanted as CSV, oldest first: titles with units, decimal point.
pub fn as_csv(bundle: &Bundle, filter: &LogFilter) -> String {
    let mut writer = csv::Writer::from_writer(Vec::new());
    let mut write = |cells: &[String]| drop(writer.write_record(cells));
    write(&TITLES.map(str::to_owned));
    let number = |value: Option<f64>, decimals: usize| {
        value.map_or_else(String::new, |value| format!("{value:.decimals$}"))
    };
    for row in rows(bundle, filter).iter().rev().filter(|row| !row.in_the_air) {
        let rest = Flight::find(bundle, &row.id).and_then(|(_, flight)| flight.rest_cell_voltage_v);
        write(&[
            row.id.clone(),
            iso(row.lift_off_unix_ms),
            row.name.clone(),
            row.place.clone(),
            row.airframe.clone(),
            number(row.flight_time_s, 0),
            number(row.used_mah, 0),
            number(row.predicted_mah, 0),
            number(row.band_mah.map(|[low, _]| low), 0),
            number(row.band_mah.map(|[_, high]| high), 0),
            number(row.power_factor, 4),
            number(rest, 3),
            row.excluded.to_string(),
            row.remark.clone(),
        ]);
    }
    String::from_utf8(writer.into_inner().unwrap_or_default()).unwrap_or_default()
}

/// The flights that are wanted as a file of this app, with their frozen copies and airframes: it can be taken in again, and
/// `correct` reads it.
///
/// # Errors
/// As `open::save`.
pub fn as_file(bundle: &Bundle, filter: &LogFilter) -> Result<String, DocumentError> {
    let wanted: Vec<String> = rows(bundle, filter).into_iter().map(|row| row.id).collect();
    let mut alone = Bundle::new();
    alone.flights = bundle.flights.iter().filter(|flight| wanted.contains(&flight.id)).cloned().collect();
    let needs_copy = |id: &str| alone.flights.iter().any(|flight| flight.flown_setup == id);
    alone.flown_setups = bundle.flown_setups.iter().filter(|copy| needs_copy(copy.id())).cloned().collect();
    let flies = |airframe: &&Airframe| alone.flights.iter().any(|flight| flight.airframe == airframe.id);
    alone.airframes = bundle.airframes.iter().filter(flies).cloned().collect();
    open::save(&alone)
}
