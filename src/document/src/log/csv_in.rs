//! The log's table taken in again: rows that are here already stay what they are, changed figures show as differences, new
//! rows become entries, what is no flight is refused in words.
//!
//! A table holds no frozen copy: a new entry gets one of the setup of its name as that stands now, or none where there is none.

use super::freeze::freeze;
use super::predict::predict;
use super::sheet::{cells, flights_alone, titles};
use crate::model::{Airframe, Bundle, Flight, numbers};
use crate::open::Opened;
use crate::present::moment;
use crate::record::{List, Record, fresh_id};

/// A log is shorter; what is longer is another file.
const MOST_BYTES: usize = 4_000_000;
/// Rows that are read: each may become an entry with a card of its own.
const MOST_ROWS: usize = 5000;
/// Columns that are looked at.
const MOST_COLUMNS: usize = 200;

/// What a table holds.
#[derive(Debug, Clone, PartialEq)]
pub struct TableIn {
    /// Its flights with what they refer to, as a file: to be previewed and taken in as one.
    pub opened: Opened,
    /// Rows that are no flight, each with its place and why.
    pub refused: Vec<String>,
}

/// Reads a table: titles as this app writes them, in any order, comma or semicolon.
///
/// # Errors
/// Words, where it is no table of flights at all.
pub fn from_csv(text: &str, bundle: &Bundle) -> Result<TableIn, String> {
    if text.len() > MOST_BYTES {
        return Err(format!("It has {} bytes, a table of flights at most {MOST_BYTES}.", text.len()));
    }
    let text = text.trim_start_matches('\u{feff}');
    let first = text.lines().next().unwrap_or_default();
    let delimiter = if first.matches(';').count() > first.matches(',').count() { b';' } else { b',' };
    let mut reader =
        csv::ReaderBuilder::new().delimiter(delimiter).flexible(true).from_reader(text.as_bytes());
    let named = reader.headers().map_err(|fault| fault.to_string())?.clone();
    let place =
        |title: &str| named.iter().take(MOST_COLUMNS).position(|own| own.trim().eq_ignore_ascii_case(title));
    for needed in ["lift_off_utc", "airframe", "flight_time_s"] {
        if place(needed).is_none() {
            return Err(format!("It has no column \"{needed}\": this is no table of flights."));
        }
    }
    let mut found = Found { with: bundle.clone(), ids: Vec::new(), refused: Vec::new() };
    for (index, row) in reader.records().enumerate() {
        if index == MOST_ROWS {
            found
                .refused
                .push(format!("Row {} and all after it: at most {MOST_ROWS} flights are read.", index + 1));
            break;
        }
        let row = match row {
            Ok(row) => row,
            Err(fault) => {
                found.refused.push(fault.to_string());
                continue;
            }
        };
        let line = row.position().map_or(0, |at| at.record() + 1);
        let cell = |title: &str| place(title).and_then(|place| row.get(place)).unwrap_or_default().trim();
        if let Err(why) = found.take(&cell) {
            found.refused.push(format!("Row {line}: {why}"));
        }
    }
    Ok(found.table())
}

struct Found {
    /// All that was here, with what came.
    with: Bundle,
    /// Flights of the table.
    ids: Vec<String>,
    refused: Vec<String>,
}

type Cell<'a> = &'a dyn Fn(&str) -> &'a str;

impl Found {
    fn take(&mut self, cell: Cell<'_>) -> Result<(), String> {
        let id = cell("id");
        if self.ids.iter().any(|own| own == id) {
            return Err(format!("the id \"{id}\" stands twice"));
        }
        let known = Flight::find(&self.with, id).map(|(_, flight)| flight.clone());
        let flight = match known {
            Some(flight) => edited(&self.with, flight, cell)?,
            None => self.made(id, cell)?,
        };
        self.ids.push(flight.id.clone());
        if let Some(there) = Flight::find_mut(&mut self.with, &flight.id) {
            *there = flight;
        } else {
            self.with.flights.push(flight);
        }
        Ok(())
    }

    fn made(&mut self, id: &str, cell: Cell<'_>) -> Result<Flight, String> {
        let airframe = airframe(&self.with, cell("airframe"))?;
        let name = cell("setup").to_owned();
        let fresh = || fresh_id(&List::Flights.names(&self.with), "flight");
        let id = if id.is_empty() { fresh() } else { id.to_owned() };
        let mut flight = Flight { id, name, airframe, source: "by-hand".to_owned(), ..Flight::default() };
        entered(&mut flight, cell)?;
        let is_it = |own: &&crate::model::Setup| own.name == flight.name && own.airframe == flight.airframe;
        if let Some(setup) = self.with.setups.iter().find(is_it).map(|setup| setup.id.clone())
            && let Ok((with, copy)) = freeze(&self.with, &self.with, &setup)
        {
            self.with = with;
            (flight.setup, flight.flown_setup) = (setup, copy);
            flight.predicted = predict(&self.with, &flight).ok();
        }
        Ok(flight)
    }

    /// The flights of the table alone, with what they refer to.
    fn table(self) -> TableIn {
        let bundle = flights_alone(&self.with, &self.ids);
        let opened = Opened { bundle, broken: Vec::new(), unknown: Vec::new() };
        TableIn { opened, refused: self.refused }
    }
}

fn airframe(bundle: &Bundle, name: &str) -> Result<String, String> {
    let found: Vec<&Airframe> = bundle.airframes.iter().filter(|own| own.name == name).collect();
    match found.as_slice() {
        [only] => Ok(only.id.clone()),
        [] => Err(format!("there is no airframe \"{name}\" here")),
        _ => Err(format!("there are several airframes \"{name}\" here")),
    }
}

/// An entry that is here, with the cells that differ from what the table of it says: what is only rounded stays.
fn edited(bundle: &Bundle, mut flight: Flight, cell: Cell<'_>) -> Result<Flight, String> {
    let own = cells(bundle, &flight);
    let said = |title: &str| {
        let place = titles().iter().position(|own| *own == title);
        place.and_then(|place| own.get(place)).map(|own| own.trim()).unwrap_or_default()
    };
    if said("airframe") != cell("airframe") {
        flight.airframe = airframe(bundle, cell("airframe"))?;
    }
    if said("setup") != cell("setup") {
        cell("setup").clone_into(&mut flight.name);
    }
    let changed = |title: &'static str| said(title) != cell(title);
    let was = flight.clone();
    entered(&mut flight, cell)?;
    if !changed("lift_off_utc") {
        flight.lift_off_unix_ms = was.lift_off_unix_ms;
    }
    if !changed("flight_time_s") {
        flight.flight_time_s = was.flight_time_s;
    }
    if !changed("used_mah") {
        flight.used_mah = was.used_mah;
    }
    if !changed("rest_cell_voltage_v") {
        flight.rest_cell_voltage_v = was.rest_cell_voltage_v;
    }
    if flight.flight_time_s != was.flight_time_s || flight.used_mah != was.used_mah {
        flight.predicted = predict(bundle, &flight).ok();
    }
    Ok(flight)
}

/// What a crew enters of a flight.
fn entered(flight: &mut Flight, cell: Cell<'_>) -> Result<(), String> {
    let when = cell("lift_off_utc");
    flight.lift_off_unix_ms =
        moment::from_iso(when).ok_or_else(|| format!("\"{when}\" is no time like 2026-11-26T03:44:36Z"))?;
    flight.flight_time_s = number("flight_time_s", cell)?;
    flight.used_mah = number("used_mah", cell)?;
    flight.rest_cell_voltage_v = number("rest_cell_voltage_v", cell)?;
    if flight.flight_time_s.is_none() {
        return Err("it has no flight time".to_owned());
    }
    for field in [&numbers::FLOWN_MINUTES, &numbers::FLOWN_USED, &numbers::FLOWN_REST] {
        field.si_if_there(flight).map_err(|fault| fault.to_string())?;
    }
    flight.excluded = match cell("excluded").to_ascii_lowercase().as_str() {
        "true" | "yes" | "1" => true,
        "false" | "no" | "0" | "" => false,
        other => return Err(format!("\"{other}\" under excluded is neither true nor false")),
    };
    cell("place").clone_into(&mut flight.place);
    cell("remark").clone_into(&mut flight.remark);
    Ok(())
}

fn number(title: &str, cell: Cell<'_>) -> Result<Option<f64>, String> {
    let text = cell(title);
    if text.is_empty() {
        return Ok(None);
    }
    let read = text.replace(',', ".").parse::<f64>().ok().filter(|value| value.is_finite());
    read.map(Some).ok_or_else(|| format!("\"{text}\" under {title} is no number"))
}
