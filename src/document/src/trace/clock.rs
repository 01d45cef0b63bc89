//! Times as recorders write them: plain numbers of any unit, clocks, dates with clocks.

use serde::{Deserialize, Serialize};

use super::cells::number;

/// How the time stands in its column.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum TimeForm {
    /// A number of seconds, from any start.
    Seconds,
    /// Milliseconds.
    Milliseconds,
    /// Microseconds.
    Microseconds,
    /// Minutes.
    Minutes,
    /// Hours.
    Hours,
    /// Hours, minutes and seconds with colons, a date before it or not. Over midnight it goes on.
    Clock,
}

const DAY_S: f64 = 86_400.0;

impl TimeForm {
    /// All of them with what a person reads.
    pub const ALL: [(Self, &'static str); 6] = [
        (Self::Seconds, "seconds"),
        (Self::Milliseconds, "milliseconds"),
        (Self::Microseconds, "microseconds"),
        (Self::Minutes, "minutes"),
        (Self::Hours, "hours"),
        (Self::Clock, "clock"),
    ];

    /// What a person reads.
    pub fn name(self) -> &'static str {
        Self::ALL.into_iter().find(|(form, _)| *form == self).map_or("", |(_, name)| name)
    }

    /// The one of this name.
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|(_, own)| *own == name).map(|(form, _)| form)
    }

    const fn seconds_each(self) -> f64 {
        match self {
            Self::Seconds | Self::Clock => 1.0,
            Self::Milliseconds => 1e-3,
            Self::Microseconds => 1e-6,
            Self::Minutes => 60.0,
            Self::Hours => 3600.0,
        }
    }

    /// Seconds; of a clock those since midnight.
    pub(super) fn seconds(self, cell: &[u8], decimal_comma: bool) -> Option<f64> {
        match self {
            Self::Clock => clock_s(cell),
            plain => number(cell, decimal_comma).map(|value| value * plain.seconds_each()),
        }
    }
}

/// Hours, minutes and seconds, or minutes and seconds; what stands before them is a date.
pub(super) fn clock_s(cell: &[u8]) -> Option<f64> {
    let colon = cell.iter().position(|byte| *byte == b':')?;
    let digits = cell.get(..colon)?.iter().rev().take_while(|byte| byte.is_ascii_digit()).count();
    let clock = cell.get(colon - digits..)?;
    let end =
        clock.iter().position(|byte| !byte.is_ascii_digit() && !b":.,".contains(byte)).unwrap_or(clock.len());
    let (figures, rest) = clock.split_at(end);
    let mut seconds = 0.0;
    let mut parts = 0;
    for part in figures.split(|byte| *byte == b':') {
        let comma = part.contains(&b',');
        seconds = seconds * 60.0 + number(part, comma)?;
        parts += 1;
    }
    if !(2..=3).contains(&parts) {
        return None;
    }
    let rest = rest.trim_ascii();
    let half_day = if rest.len() >= 2 { rest.get(..2).map(<[u8]>::to_ascii_lowercase) } else { None };
    match half_day.as_deref() {
        Some(b"pm") if seconds < DAY_S / 2.0 => seconds += DAY_S / 2.0,
        Some(b"am") if seconds >= DAY_S / 2.0 => seconds -= DAY_S / 2.0,
        _ => {}
    }
    Some(seconds)
}

/// A clock that fell by more than half a day has passed midnight.
pub(super) fn over_midnight(days: &mut f64, last_s: Option<f64>, clock_s: f64) -> f64 {
    if let Some(last_s) = last_s {
        let now_s = clock_s + *days;
        if now_s < last_s - DAY_S / 2.0 {
            *days += DAY_S;
        } else if now_s > last_s + DAY_S / 2.0 && *days >= DAY_S {
            // A row that came late, from before midnight.
            return now_s - DAY_S;
        }
    }
    clock_s + *days
}

/// The form of a column of plain numbers: by its title's unit, else by size and step. A recorder that writes whole numbers
/// twenty and more apart counts milliseconds, twenty thousand and more microseconds; one second since 1970 is above 1e9.
pub(super) fn form_of(title_words: &[String], values: &[f64]) -> TimeForm {
    let has = |names: &[&str]| title_words.iter().any(|word| names.contains(&word.as_str()));
    if has(&["ms", "msec", "millis", "milliseconds", "millisecond"]) {
        return TimeForm::Milliseconds;
    }
    if has(&["us", "µs", "usec", "micros", "microseconds", "timeus"]) {
        return TimeForm::Microseconds;
    }
    let greatest = values.iter().copied().fold(0.0, f64::max);
    if greatest > 1e14 {
        return TimeForm::Microseconds;
    }
    if greatest > 1e11 {
        return TimeForm::Milliseconds;
    }
    if has(&["min", "minutes", "minute"]) {
        return TimeForm::Minutes;
    }
    if has(&["h", "hours", "hour"]) {
        return TimeForm::Hours;
    }
    if has(&["s", "sec", "seconds", "second", "secs"]) || greatest > 1e9 {
        return TimeForm::Seconds;
    }
    let mut steps: Vec<f64> = values
        .windows(2)
        .filter_map(|pair| Some(pair.get(1)? - pair.first()?))
        .filter(|step| *step > 0.0)
        .collect();
    steps.sort_by(f64::total_cmp);
    let median = steps.get(steps.len() / 2).copied().unwrap_or(1.0);
    let whole = values.iter().all(|value| value.fract() == 0.0);
    match median {
        step if whole && step >= 20_000.0 => TimeForm::Microseconds,
        step if whole && step >= 20.0 => TimeForm::Milliseconds,
        _ => TimeForm::Seconds,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn regress_clocks_as_recorders_write_them() {
        let table: &[(&str, Option<f64>)] = &[
            ("00:01:02.5", Some(62.5)),
            ("01:02,5", Some(62.5)),
            ("2026-11-26T03:44:36.125Z", Some(13_476.125)),
            ("2026-11-26 03:44:36+01:00", Some(13_476.0)),
            ("26.11.2026 03:44:36", Some(13_476.0)),
            ("11/26/2026 3:44:36 PM", Some(56_676.0)),
            ("12:00:01 am", Some(1.0)),
            ("12:30", Some(750.0)),
            ("1:2:3:4", None),
            ("x:y", None),
            ("", None),
        ];
        for (cell, expected) in table {
            assert_eq!(clock_s(cell.as_bytes()), *expected, "{cell}");
        }
    }

    #[test]
    fn regress_midnight_goes_on() {
        let (mut days, mut last) = (0.0, None);
        let table = [(86_398.0, 86_398.0), (1.0, 86_401.0), (86_399.0, 86_399.0), (3.0, 86_403.0)];
        for (clock, expected) in table {
            let at = over_midnight(&mut days, last, clock);
            assert!((at - expected).abs() < 1e-9, "{clock}: {at}");
            last = Some(at);
        }
    }
}
