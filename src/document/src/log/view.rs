//! The log as it is listed and drawn: rows newest first, how often the band held, how it goes on over time.

use super::predict::band;
use crate::model::{Bundle, Flight};
use crate::present::moment;
use crate::record::List;

/// Which flights are wanted; empty takes all.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct LogFilter {
    /// Airframe id.
    pub airframe: String,
    /// Setup id.
    pub setup: String,
}

/// One flight as it is listed.
#[derive(Debug, Clone, PartialEq)]
#[allow(missing_docs, reason = "each name says what it holds, with its unit")]
pub struct LogRow {
    pub id: String,
    pub name: String,
    pub place: String,
    pub airframe: String,
    pub lift_off_unix_ms: f64,
    pub flight_time_s: Option<f64>,
    pub used_mah: Option<f64>,
    pub predicted_mah: Option<f64>,
    /// Four flights in five use between these.
    pub band_mah: Option<[f64; 2]>,
    pub inside: Option<bool>,
    pub power_factor: Option<f64>,
    /// Of a cell at rest after it, over the model's: sinking where packs tire.
    pub rest_over_model_mv: Option<f64>,
    pub excluded: bool,
    pub in_the_air: bool,
    pub remark: String,
}

/// The flights that are wanted, newest first.
pub fn rows(bundle: &Bundle, filter: &LogFilter) -> Vec<LogRow> {
    let airframes = List::Airframes.names(bundle);
    let fits = |wanted: &str, own: &str| wanted.is_empty() || wanted == own;
    let wanted =
        |flight: &&Flight| fits(&filter.airframe, &flight.airframe) && fits(&filter.setup, &flight.setup);
    let mut rows: Vec<LogRow> =
        bundle.flights.iter().filter(wanted).map(|flight| row(flight, &airframes)).collect();
    rows.sort_by(|one, other| other.lift_off_unix_ms.total_cmp(&one.lift_off_unix_ms));
    rows
}

/// Ids of the rows by day, in their order; `east_min` is how far the clocks there are ahead of world time at a moment.
pub fn by_day(rows: &[LogRow], east_min: impl Fn(f64) -> f64) -> Vec<(String, Vec<String>)> {
    let mut days: Vec<(String, Vec<String>)> = Vec::new();
    for row in rows {
        let day = moment::day(row.lift_off_unix_ms, east_min(row.lift_off_unix_ms));
        match days.last_mut().filter(|(last, _)| *last == day) {
            Some((_, ids)) => ids.push(row.id.clone()),
            None => days.push((day, vec![row.id.clone()])),
        }
    }
    days
}

pub(super) fn row(flight: &Flight, airframes: &[(String, String)]) -> LogRow {
    let predicted = flight.predicted.as_ref();
    let band_mah = predicted.and_then(band);
    let inside = band_mah.zip(flight.used_mah).map(|([low, high], used)| (low..=high).contains(&used));
    LogRow {
        id: flight.id.clone(),
        name: flight.name.clone(),
        place: flight.place.clone(),
        airframe: airframes
            .iter()
            .find(|(id, _)| *id == flight.airframe)
            .map(|(_, name)| name.clone())
            .unwrap_or_default(),
        lift_off_unix_ms: flight.lift_off_unix_ms,
        flight_time_s: flight.flight_time_s,
        used_mah: flight.used_mah,
        predicted_mah: predicted.and_then(|predicted| predicted.used_mah),
        band_mah,
        inside,
        power_factor: predicted.and_then(|predicted| predicted.power_factor),
        rest_over_model_mv: flight
            .rest_cell_voltage_v
            .zip(predicted.and_then(|predicted| predicted.rest_cell_voltage_v))
            .map(|(read, said)| 1000.0 * (read - said)),
        excluded: flight.excluded,
        in_the_air: flight.aloft.is_some(),
        remark: flight.remark.clone(),
    }
}

/// How often the band of four in five held.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Coverage {
    /// Flights inside.
    pub inside: usize,
    /// Flights that were predicted.
    pub of: usize,
}

/// How often the band held, of flights that count.
pub fn coverage(rows: &[LogRow]) -> Coverage {
    let counted = || rows.iter().filter(|row| !row.excluded).filter_map(|row| row.inside);
    Coverage { inside: counted().filter(|inside| *inside).count(), of: counted().count() }
}

/// Below so many flights nothing is said of how right the band is.
const FEWEST: usize = 5;
/// Chance that so few or so many would lie inside if four in five did, below which it is said: one in twenty.
const UNLIKELY: f64 = 0.05;

impl Coverage {
    /// In a sentence; empty without a flight.
    pub fn words(self) -> String {
        let Self { inside, of } = self;
        if of == 0 {
            return String::new();
        }
        let judged = if of < FEWEST {
            "too few to say how right it is"
        } else if self.chance(|count| count <= inside) < UNLIKELY {
            "fewer than four in five: the doubt is taken too small"
        } else if self.chance(|count| count >= inside) < UNLIKELY {
            "more than four in five: the doubt is taken too large"
        } else {
            "about right"
        };
        let flights = if of == 1 { "flight" } else { "flights" };
        format!("{inside} of {of} {flights} inside the band: {judged}")
    }

    /// Chance of the counts that fit if each flight lies inside with four in five: the binomial distribution.
    fn chance(self, fits: impl Fn(usize) -> bool) -> f64 {
        const INSIDE: f64 = 0.8;
        // As a logarithm: a thousand flights all outside are beyond the smallest number.
        let mut log_term = self.of as f64 * (1.0 - INSIDE).ln();
        let mut sum = 0.0;
        for count in 0..=self.of {
            if fits(count) {
                sum += log_term.exp();
            }
            log_term += ((self.of - count) as f64 / (count + 1) as f64 * INSIDE / (1.0 - INSIDE)).ln();
        }
        sum
    }
}
