//! The table as CSV, for a spreadsheet in the user's units.
//!
//! Format    as `spreadsheet`

use liftmargin_core::units::Time;

use super::{Column, Row};
use crate::present::answer::{self, Shown};
use crate::present::units::{Choice, DecimalMark, Units};
use crate::spreadsheet::{table, words as text};
use crate::words::{checks, wind};

const GROUP_SPACE: char = '\u{202f}';

/// All rows under one header.
pub fn csv(rows: &[Row], units: Units) -> String {
    table(units, core::iter::once(header(units)).chain(rows.iter().map(|row| record(row, units))))
}

fn header(units: Units) -> Vec<String> {
    let with = |column: Column, unit: &str| format!("{} ({unit})", column.title());
    let speed = units.get(Choice::Speed).symbol();
    vec![
        Column::Setup.title().to_owned(),
        Column::Site.title().to_owned(),
        Column::OnBoard.title().to_owned(),
        with(Column::Cautious, "min"),
        with(Column::Typical, "min"),
        Column::FlightsPerSet.title().to_owned(),
        "Pack sets".to_owned(),
        with(Column::AllSets, "min"),
        with(Column::Mass, units.get(Choice::Mass).symbol()),
        format!("Greatest mean wind ({speed})"),
        format!("Greatest gust ({speed})"),
        Column::Verdict.title().to_owned(),
        "Verdict in words".to_owned(),
        Column::LimitedBy.title().to_owned(),
    ]
}

fn record(row: &Row, units: Units) -> Vec<String> {
    let figures = row.figures.as_ref();
    let time = |time: Option<Time>| time.map(|time| minutes(time, units)).unwrap_or_default();
    let wind = figures.and_then(|figures| figures.wind);
    vec![
        text(&row.setup_name),
        text(&row.site_name),
        text(&row.on_board),
        time(row.cautious()),
        time(figures.and_then(|figures| figures.typical)),
        figures.map(|_| row.flights_per_set().to_string()).unwrap_or_default(),
        row.pack_sets.map(|sets| sets.to_string()).unwrap_or_default(),
        time(row.all_sets()),
        figures.map(|figures| number(&answer::mass(figures.all_up_mass, units))).unwrap_or_default(),
        wind.map(|found| number(&wind::in_hand(found.mean, units))).unwrap_or_default(),
        wind.map(|found| number(&wind::in_hand(found.gust, units))).unwrap_or_default(),
        figures.map(|figures| checks::state_word(figures.verdict.state).to_owned()).unwrap_or_default(),
        text(&row.cell(Column::Verdict, units)),
        text(&row.limited_by),
    ]
}

/// Whole tens of seconds as minutes, down to a hundredth.
fn minutes(time: Time, units: Units) -> String {
    let hundredths = answer::whole_seconds(time) * 100 / 60;
    let mark = if units.decimal_mark() == DecimalMark::Comma { ',' } else { '.' };
    format!("{}{mark}{:02}", hundredths / 100, hundredths % 100)
}

/// As a spreadsheet reads numbers: no spaces between thousands, a plain minus.
fn number(shown: &Shown) -> String {
    shown.number.replace(GROUP_SPACE, "").replace('\u{2212}', "-")
}
