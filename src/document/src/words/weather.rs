//! What was taken from a weather report, and how old it is, in words.

use liftmargin_core::units::Time;
use uom::si::time;

use crate::metar::Metar;
use crate::model::Bundle;
use crate::model::numbers::SITE;
use crate::present::Units;
use crate::present::entry::show_number;
use crate::present::number::write;
use crate::record::List;

/// Reports come every half hour or hour; one that was followed by two others is old (common practice, no source).
const OLD_H: f64 = 2.0;

/// "EPWA, observed on day 25 at 18:00 UTC".
pub fn observed(metar: &Metar) -> String {
    let at = metar.observed;
    format!("{}, observed on day {} at {:02}:{:02} UTC", metar.station, at.day, at.hour, at.minute)
}

/// Its age in hours, begun tenths as whole ones, and that it is old where it is. None for a day that the last two months do not have.
pub fn age(age: Option<Time>, units: Units) -> String {
    let Some(age) = age else {
        return "Its day is none of the last two months: ask for a new one.".to_owned();
    };
    let hours = age.get::<time::hour>();
    let tenths = write((hours * 10.0 - 1e-6).ceil().max(0.0) / 10.0, 1, units.decimal_mark());
    let words = if hours < 48.0 {
        format!("{tenths}\u{a0}h old")
    } else {
        format!("{:.0}\u{a0}h old, {:.0} days", hours.ceil(), (hours / 24.0).floor())
    };
    if hours > OLD_H {
        format!("{words}: old. The weather may be another now; ask for a new one.")
    } else {
        format!("{words}.")
    }
}

/// The weather of a site in one line: "Pass road: Site elevation 1900 m, QNH 1013 hPa, …".
pub fn of_site(bundle: &Bundle, id: &str, units: Units) -> Option<String> {
    let name = List::Sites.name(bundle, id)?;
    let parts = SITE.iter().filter_map(|entry| {
        let number = entry.number();
        let value = show_number(entry.value(bundle, id)?, number, units);
        Some(format!("{} {value}\u{a0}{}", number.label, units.of(number.range).symbol()))
    });
    Some(format!("{name}: {}.", parts.collect::<Vec<_>>().join(", ")))
}

/// What else the wind group says.
pub fn wind_notes(metar: &Metar) -> Vec<String> {
    let Some(wind) = metar.wind else { return vec!["It reports no wind: the site's stays.".to_owned()] };
    let mut notes = Vec::new();
    match wind.direction_deg {
        Some(degrees) => notes.push(format!("Wind from {degrees}°.")),
        None if wind.mean.value == 0.0 => notes.push("Calm.".to_owned()),
        None => notes.push("Wind from changing directions.".to_owned()),
    }
    if wind.gust.is_none() {
        notes.push(
            "No gust reported: the mean wind counts as the gust. Expect more near ridges and buildings."
                .to_owned(),
        );
    }
    if wind.is_above_scale {
        notes.push("The wind is off the station's scale: it is more than this.".to_owned());
    }
    notes
}
