//! A row as plain data, SI units, unrounded: what the `sheet` example prints.

use serde::Serialize;

use super::{Column, Row};
use crate::present::Units;
use crate::words::wind;

/// One row.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[allow(missing_docs, reason = "each name says what it holds, with its unit")]
pub struct RowReport {
    pub setup: String,
    pub setup_name: String,
    pub site: String,
    pub site_name: String,
    pub on_board: String,
    /// None where it is not assured or there is no flight.
    pub cautious_flight_time_s: Option<f64>,
    pub flight_time_s: Option<f64>,
    pub flights_per_pack_set: Option<usize>,
    /// None where the register has no packs of this sort.
    pub pack_sets: Option<usize>,
    pub cautious_time_all_sets_s: Option<f64>,
    pub all_up_mass_kg: Option<f64>,
    /// At 10 m above ground; none where calm air is too much.
    pub greatest_wind_m_s: Option<f64>,
    pub greatest_gust_m_s: Option<f64>,
    pub wind_ended_by: Option<String>,
    /// `fine`, `watch` or `no`.
    pub verdict: String,
    pub verdict_words: String,
    pub limited_by: String,
}

impl From<&Row> for RowReport {
    fn from(row: &Row) -> Self {
        let figures = row.figures.as_ref();
        let wind = figures.and_then(|figures| figures.wind);
        Self {
            setup: row.setup.clone(),
            setup_name: row.setup_name.clone(),
            site: row.site.clone(),
            site_name: row.site_name.clone(),
            on_board: row.on_board.clone(),
            cautious_flight_time_s: row.cautious().map(|time| time.value),
            flight_time_s: figures.and_then(|figures| figures.typical).map(|time| time.value),
            flights_per_pack_set: figures.map(|_| row.flights_per_set()),
            pack_sets: row.pack_sets,
            cautious_time_all_sets_s: row.all_sets().map(|time| time.value),
            all_up_mass_kg: figures.map(|figures| figures.all_up_mass.value),
            greatest_wind_m_s: wind.map(|found| found.mean.value),
            greatest_gust_m_s: wind.map(|found| found.gust.value),
            wind_ended_by: wind.map(|found| wind::ends(found.ends)),
            verdict: row.state().key().to_owned(),
            verdict_words: row.cell(Column::Verdict, Units::default()),
            limited_by: row.limited_by.clone(),
        }
    }
}
