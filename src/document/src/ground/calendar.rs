//! A day as a calendar file (iCalendar, RFC 5545), and as CSV.
//!
//! Flights alone go into the calendar, in floating local time: a phone shows them as the crew's clock does, wherever it is.

use ics::properties::{Description, DtEnd, DtStart, Summary};
use ics::{Event, ICalendar, escape_text};
use liftmargin_core::day::DayEventKind;
use time::{Date, Duration, Month};

use super::clock;
use super::day_report::DayReport;
use crate::present::Units;
use crate::present::moment::date;
use crate::spreadsheet;

/// The date and the moment of a clock that counts milliseconds since 1970, UTC: `2026-04-30`, `20260430T080500Z`.
pub fn of_clock(since_1970_ms: f64) -> (String, String) {
    let seconds = (since_1970_ms / 1000.0).floor();
    let days = (seconds / 86_400.0).floor();
    let date = Date::from_calendar_date(1970, Month::January, 1)
        .ok()
        .and_then(|first| first.checked_add(Duration::days(days as i64)));
    let Some(date) = date else { return (String::new(), String::new()) };
    let day = format!("{:04}-{:02}-{:02}", date.year(), u8::from(date.month()), date.day());
    let moment = local(date, seconds - days * 86_400.0).unwrap_or_default();
    (day, format!("{moment}Z"))
}

/// Years from one date to another; none where one is no date, or the second comes first.
pub fn years_between(from: &str, to: &str) -> Option<f64> {
    let days = (date(to)? - date(from)?).whole_days();
    (days >= 0).then_some(days as f64 / 365.25)
}

/// Local time so many seconds after the midnight of a date: `20260430T080500`.
fn local(date: Date, seconds: f64) -> Option<String> {
    let whole = seconds.max(0.0).round() as i64;
    let date = date.checked_add(Duration::days(whole / 86_400))?;
    let within = whole % 86_400;
    Some(format!(
        "{:04}{:02}{:02}T{:02}{:02}{:02}",
        date.year(),
        u8::from(date.month()),
        date.day(),
        within / 3600,
        within / 60 % 60,
        within % 60
    ))
}

/// The flights of a day as a calendar file; `stamp` is when it is made, UTC, `20260430T080500Z`. None where the date is none.
pub fn calendar(report: &DayReport, name: &str, day: &str, stamp: &str) -> Option<String> {
    let date = date(day)?;
    let mut calendar = ICalendar::new("2.0", "-//Liftmargin//Day//EN");
    let flights = report.events.iter().filter(|event| event.event == DayEventKind::Flight.key());
    for event in flights {
        let plain_name: String = name.chars().filter(char::is_ascii_alphanumeric).collect();
        let mut entry =
            Event::new(format!("{stamp}-{}-{plain_name}@liftmargin", event.flight), stamp.to_owned());
        entry.push(DtStart::new(local(date, event.start_s)?));
        entry.push(DtEnd::new(local(date, event.end_s)?));
        entry.push(Summary::new(
            escape_text(format!("Flight {}: {}", event.flight, event.setup)).into_owned(),
        ));
        entry.push(Description::new(escape_text(format!("{name}, packs {}", event.set)).into_owned()));
        calendar.add_event(entry);
    }
    Some(calendar.to_string())
}

/// All events as CSV: one a row, times of the day.
pub fn csv(report: &DayReport, units: Units) -> String {
    let head = ["event", "start", "end", "flight", "setup", "set", "charger"].map(str::to_owned).to_vec();
    let events = report.events.iter().map(|event| {
        vec![
            event.event.to_owned(),
            clock::exact(event.start_s),
            clock::exact(event.end_s),
            event.flight.to_string(),
            spreadsheet::words(&event.setup),
            spreadsheet::words(&event.set),
            event.charger.map(|charger| charger.to_string()).unwrap_or_default(),
        ]
    });
    spreadsheet::table(units, core::iter::once(head).chain(events))
}
