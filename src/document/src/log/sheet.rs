//! The log for others: as a table for a spreadsheet, and as a file with all that its flights need.

use super::view::{LogFilter, LogRow, row, rows};
use crate::error::DocumentError;
use crate::model::{Airframe, Bundle, Flight};
use crate::open;
use crate::present::moment::iso;
use crate::record::{List, Record};

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

/// The titles of the table.
pub(super) const fn titles() -> &'static [&'static str] {
    &TITLES
}

/// The flights that are wanted as CSV, oldest first: titles with units, decimal point.
pub fn as_csv(bundle: &Bundle, filter: &LogFilter) -> String {
    let mut writer = csv::Writer::from_writer(Vec::new());
    let mut write = |cells: &[String]| drop(writer.write_record(cells));
    write(&TITLES.map(str::to_owned));
    for row in rows(bundle, filter).iter().rev().filter(|row| !row.in_the_air) {
        if let Some((_, flight)) = Flight::find(bundle, &row.id) {
            write(&of_row(row, flight));
        }
    }
    String::from_utf8(writer.into_inner().unwrap_or_default()).unwrap_or_default()
}

/// An entry as the table has it.
pub(super) fn cells(bundle: &Bundle, flight: &Flight) -> Vec<String> {
    of_row(&row(flight, &List::Airframes.names(bundle)), flight)
}

fn of_row(row: &LogRow, flight: &Flight) -> Vec<String> {
    let number = |value: Option<f64>, decimals: usize| {
        value.map_or_else(String::new, |value| format!("{value:.decimals$}"))
    };
    vec![
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
        number(flight.rest_cell_voltage_v, 3),
        row.excluded.to_string(),
        row.remark.clone(),
    ]
}

/// The flights that are wanted as a file of this app, with their recordings, frozen copies and airframes: it can be taken in again, and
/// `correct` reads it.
///
/// # Errors
/// As `open::save`.
pub fn as_file(bundle: &Bundle, filter: &LogFilter) -> Result<String, DocumentError> {
    let wanted: Vec<String> = rows(bundle, filter).into_iter().map(|row| row.id).collect();
    let mut alone = flights_alone(bundle, &wanted);
    alone.recordings =
        bundle.recordings.iter().filter(|recording| wanted.contains(&recording.flight)).cloned().collect();
    open::save(&alone)
}

/// Some flights of a bundle with their frozen copies and airframes, without recordings.
pub(super) fn flights_alone(bundle: &Bundle, wanted: &[String]) -> Bundle {
    let mut alone = Bundle::new();
    alone.flights = bundle.flights.iter().filter(|flight| wanted.contains(&flight.id)).cloned().collect();
    let needs_copy = |id: &str| alone.flights.iter().any(|flight| flight.flown_setup == id);
    alone.flown_setups = bundle.flown_setups.iter().filter(|copy| needs_copy(copy.id())).cloned().collect();
    let flies = |airframe: &&Airframe| alone.flights.iter().any(|flight| flight.airframe == airframe.id);
    alone.airframes = bundle.airframes.iter().filter(flies).cloned().collect();
    alone
}
