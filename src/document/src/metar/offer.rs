//! What a report offers a site: each value beside what stands there now, and the temperature as it is at the station and as
//! the standard atmosphere would have it at the site.
//!
//! Formula   T_site = T_station − 6.5 K/km (h_site − h_station); humidity from temperature and dew point at the station
//! Units     SI; the file's in what is put
//! Source    ICAO Doc 7488/3 (lapse); CIPM-2007 (humidity), as in `core/air`
//! Valid     the ranges of `Site`; what lies outside is told and not put
//! Checked?  the lapse in `core/air`; what is put, by tests/it/metar_offer.rs
//! Assumes   QNH stays QNH: it is the pressure at sea level for station and site alike. The real lapse may be any other, and
//!           is none under an inversion: so both temperatures are shown and the crew chooses

use liftmargin_core::air::{Site as CoreSite, relative_humidity, temperature_above};
use liftmargin_core::units::{Length, ThermodynamicTemperature};

use super::Metar;
use crate::fields::{Field, Number};
use crate::model::Site;
use crate::model::numbers::{GUST, QNH, RELATIVE_HUMIDITY, TEMPERATURE, WIND};
use crate::present::entry::show_number;
use crate::present::{Unit, Units};

/// What is typed to carry a temperature from the station to the site.
pub static STATION_ELEVATION: Number = Number {
    path: "station_elevation_m",
    unit: Unit::Metre,
    range: &CoreSite::ELEVATION,
    optional: true,
    label: "Elevation of the station",
    help: "Of the aerodrome, from its chart; only to carry the temperature to the site.",
};

/// Which temperature is taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TemperatureAt {
    /// As the station reports it.
    Station,
    /// With the standard lapse to the site's elevation.
    Site,
}

/// One value on offer.
#[derive(Clone, Copy)]
pub struct Offered {
    field: &'static Field<Site>,
    /// In the file's unit.
    value: f64,
}

impl Offered {
    fn new(field: &'static Field<Site>, si: f64) -> Self {
        Self { field, value: field.number.unit.from_si(si) }
    }

    /// "Temperature".
    pub fn name(&self) -> &'static str {
        self.field.number.label
    }

    /// "12 °C", in the user's unit.
    pub fn shown(&self, units: Units) -> String {
        with_unit(self.field, self.value, units)
    }

    /// What the site has now.
    pub fn now(&self, site: &Site, units: Units) -> String {
        self.field.get(site).map(|value| with_unit(self.field, value, units)).unwrap_or_default()
    }

    /// Why it cannot be taken; none where it can.
    pub fn refused(&self, units: Units) -> Option<String> {
        let words = crate::words::range_words(self.field.number.range, units);
        self.field
            .number
            .check(self.value)
            .err()
            .map(|_| format!("not taken: {} must be {words}", self.name()))
    }

    /// Puts it into a site, where it may stand there.
    pub fn put(&self, site: &mut Site) {
        if self.field.number.check(self.value).is_ok() {
            self.field.set(site, Some(tidy(self.value)));
        }
    }
}

/// Without the last digits that converting to SI and back leaves.
fn tidy(value: f64) -> f64 {
    (value * 1e6).round() / 1e6
}

fn with_unit(field: &Field<Site>, value: f64, units: Units) -> String {
    let text = show_number(value, &field.number, units);
    format!("{text}\u{a0}{}", units.of(field.number.range).symbol())
}

/// What a report has for a site, apart from the temperature: in the order of the form.
pub fn offers(metar: &Metar) -> Vec<Offered> {
    let humidity =
        metar.temperature.zip(metar.dew_point).and_then(|(air, dew)| relative_humidity(air, dew).ok());
    let wind = metar.wind;
    // No gust reported is no gust: what stood there before belongs to another weather.
    let gust = wind.map(|wind| wind.gust.unwrap_or(wind.mean));
    let all = [
        metar.qnh.map(|qnh| Offered::new(&QNH, qnh.value)),
        humidity.map(|share| Offered::new(&RELATIVE_HUMIDITY, share.value)),
        wind.map(|wind| Offered::new(&WIND, wind.mean.value)),
        gust.map(|gust| Offered::new(&GUST, gust.value)),
    ];
    all.into_iter().flatten().collect()
}

/// The temperature on offer: at the station, or carried to the site, for which the station's elevation must be known.
pub fn temperature(
    metar: &Metar,
    at: TemperatureAt,
    station_elevation: Option<Length>,
    site_elevation: Length,
) -> Option<Offered> {
    let reported: ThermodynamicTemperature = metar.temperature?;
    let there = match at {
        TemperatureAt::Station => reported,
        TemperatureAt::Site => temperature_above(reported, site_elevation - station_elevation?),
    };
    Some(Offered::new(&TEMPERATURE, there.value))
}
