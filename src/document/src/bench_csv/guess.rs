//! Which column of a bench table holds what, by its title and figures.

use super::{Columns, Sheet, SpeedUnit, ThrottleUnit, ThrustUnit, number};

/// What the titles suggest; of several, the first whose column holds figures other than zero.
pub(super) fn guess(sheet: &Sheet) -> Columns {
    let titles: Vec<Title> = sheet.headers.iter().map(|header| Title::new(header)).collect();
    let greatest = |index: usize| {
        let cells = sheet.rows.iter().filter_map(|row| number(row.cells.get(index)?, sheet.decimal_comma));
        cells.fold(0.0, f64::max)
    };
    let find = |fits: fn(&Title) -> bool| {
        (0..titles.len()).find(|&index| titles.get(index).is_some_and(fits) && greatest(index) > 0.0)
    };
    let title = |index: usize| titles.get(index);
    Columns {
        throttle: find(|title| title.has(&["throttle", "duty"]))
            .or_else(|| find(|title| title.has(&["esc", "pwm", "signal", "stick"])))
            .map(|index| (index, throttle_unit(title(index), greatest(index)))),
        voltage: find(|title| title.has(&["volt"]) || title.word(&["v"])),
        current: find(|title| title.has(&["current", "amp"]) || title.word(&["a"])),
        thrust: find(|title| {
            title.has(&["thrust", "pull", "lift"]) && !title.has(&["effic"]) && !title.word(&["w"])
        })
        .map(|index| (index, title(index).map_or(ThrustUnit::GramForce, thrust_unit))),
        speed: find(|title| title.has(&["rpm", "erpm", "speed"]) && !title.electrical())
            .map(|index| (index, SpeedUnit::Rpm))
            .or_else(|| {
                find(|title| title.has(&["rpm", "erpm", "speed"]))
                    .map(|index| (index, SpeedUnit::ElectricalRpm { pole_pairs: None }))
            }),
    }
}

fn throttle_unit(title: Option<&Title>, greatest: f64) -> ThrottleUnit {
    if title.is_some_and(|title| title.text.contains('%')) || (greatest > 1.001 && greatest <= 110.0) {
        ThrottleUnit::Percent
    } else if greatest > 110.0 {
        ThrottleUnit::SignalMicroseconds
    } else {
        ThrottleUnit::Share
    }
}

/// The unit in the title; gram-force, the usual one, where none stands there.
fn thrust_unit(title: &Title) -> ThrustUnit {
    if title.word(&["kg", "kgf", "kilogram", "kilograms"]) {
        ThrustUnit::KilogramForce
    } else if title.word(&["n", "newton", "newtons"]) {
        ThrustUnit::Newton
    } else if title.word(&["lb", "lbs", "lbf", "pound", "pounds"]) {
        ThrustUnit::PoundForce
    } else if title.word(&["oz", "ozf", "ounce", "ounces"]) {
        ThrustUnit::OunceForce
    } else {
        ThrustUnit::GramForce
    }
}

/// A column title in lower case, and its words.
struct Title {
    text: String,
    words: Vec<String>,
}

impl Title {
    fn new(header: &str) -> Self {
        let text = header.to_ascii_lowercase();
        let words = text.split(|c: char| !c.is_alphanumeric()).map(str::to_owned).collect();
        Self { text, words }
    }

    fn has(&self, parts: &[&str]) -> bool {
        self.words.iter().any(|word| parts.iter().any(|part| word.starts_with(part)))
    }

    fn word(&self, words: &[&str]) -> bool {
        self.words.iter().any(|word| words.contains(&word.as_str()))
    }

    fn electrical(&self) -> bool {
        self.has(&["electrical", "erpm"])
    }
}
