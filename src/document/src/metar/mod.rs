//! An aviation routine weather report (METAR, SPECI), read as far as a site needs it.
//!
//! Formula   wind 1 kt = 1852/3600 m/s; pressure A in hundredths of an inch of mercury, 1 inHg = 3386.389 Pa
//! Units     as the groups give them; SI in what comes out
//! Source    WMO-No. 306, Manual on Codes, FM 15 METAR and FM 16 SPECI; United States form: FMH-1 (both from memory,
//!           examples of the FAA's key and manual in tests/references/metar)
//! Valid     one report; a list of reports is read up to the first `=`
//! Assumes   groups that do not concern a site (visibility, cloud, weather) are passed over

mod age;
mod fault;
mod groups;
mod offer;

pub use age::age;
pub use fault::{BadGroup, MetarFault};
pub use offer::{Offered, STATION_ELEVATION, TemperatureAt, offers, temperature};

use liftmargin_core::units::{Pressure, ThermodynamicTemperature, Velocity};

/// What a report says, where it says it.
#[derive(Debug, Clone, PartialEq)]
pub struct Metar {
    /// Four letters or digits.
    pub station: String,
    /// When it was observed, universal time.
    pub observed: ObservedAt,
    /// Outside air.
    pub temperature: Option<ThermodynamicTemperature>,
    /// Dew point.
    pub dew_point: Option<ThermodynamicTemperature>,
    /// Altimeter setting.
    pub qnh: Option<Pressure>,
    /// Wind.
    pub wind: Option<Wind>,
}

/// Day of the month and time of day, universal time; a report names no month.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ObservedAt {
    /// 1 to 31.
    pub day: u8,
    /// 0 to 23.
    pub hour: u8,
    /// 0 to 59.
    pub minute: u8,
}

/// The wind group.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wind {
    /// Where it comes from, degrees true; none where it is variable or calm.
    pub direction_deg: Option<u16>,
    /// Mean over ten minutes (two in the United States).
    pub mean: Velocity,
    /// Greatest gust, where one is reported.
    pub gust: Option<Velocity>,
    /// The report says "more than": it was off the scale of the instrument.
    pub is_above_scale: bool,
}

/// Longer than any report with its remarks.
const LONGEST: usize = 2_000;

/// Reads a report. Case, line breaks and the words METAR and SPECI in front do not matter.
///
/// # Errors
/// `MetarFault` naming the group that cannot be, or what is missing.
pub fn read(text: &str) -> Result<Metar, MetarFault> {
    if text.len() > LONGEST {
        return Err(MetarFault::TooLong { characters: text.len(), most: LONGEST });
    }
    let text = text.to_uppercase();
    let report = text.split('=').find(|part| !part.trim().is_empty()).ok_or(MetarFault::Empty)?;
    let mut words = report.split_whitespace().peekable();
    while words.next_if(|word| matches!(*word, "METAR" | "SPECI" | "COR")).is_some() {}
    let station = words.next().ok_or(MetarFault::Empty)?;
    if station == "TAF" {
        return Err(MetarFault::Forecast);
    }
    if !groups::is_station(station) {
        return Err(MetarFault::NoStation { found: station.to_owned() });
    }
    let time = words.next().unwrap_or_default();
    let observed = groups::time(time).ok_or_else(|| MetarFault::NoTime { found: time.to_owned() })?;
    let mut metar = Metar {
        station: station.to_owned(),
        observed,
        temperature: None,
        dew_point: None,
        qnh: None,
        wind: None,
    };
    let mut words = words.map(str::to_owned).collect::<Vec<_>>().into_iter();
    take(&mut metar, &mut words)?;
    if words.any(|word| word == "RMK") || report.contains(" RMK ") {
        let remarks = report.split_whitespace().skip_while(|word| *word != "RMK");
        refine(&mut metar, remarks)?;
    }
    if metar.wind.is_none() && metar.temperature.is_none() && metar.qnh.is_none() {
        return Err(MetarFault::NothingOfUse);
    }
    Ok(metar)
}

/// The groups of the observation itself, up to the trend or the remarks.
fn take(metar: &mut Metar, words: &mut impl Iterator<Item = String>) -> Result<(), MetarFault> {
    for word in words {
        match word.as_str() {
            "NIL" => return Err(MetarFault::Nil),
            "RMK" | "TEMPO" | "BECMG" | "NOSIG" | "INTER" => return Ok(()),
            _ => {}
        }
        if metar.wind.is_none() && groups::looks_like_wind(&word) {
            metar.wind = groups::wind(&word)?;
        } else if metar.temperature.is_none() && groups::looks_like_temperatures(&word) {
            (metar.temperature, metar.dew_point) = groups::temperatures(&word)?;
        } else if groups::looks_like_pressure(&word) {
            let pressure = groups::pressure(&word)?;
            metar.qnh = groups::agreed(metar.qnh, pressure, &word)?;
        }
    }
    Ok(())
}

/// Tenths of a degree from the remarks (`T01820159`), where they fit the whole degrees.
fn refine<'a>(metar: &mut Metar, remarks: impl Iterator<Item = &'a str>) -> Result<(), MetarFault> {
    for word in remarks {
        let Some((temperature, dew_point)) = groups::tenths(word) else { continue };
        groups::same_degree(metar.temperature, temperature, word)?;
        metar.temperature = Some(temperature);
        if dew_point.is_some() {
            metar.dew_point = dew_point;
        }
    }
    Ok(())
}
