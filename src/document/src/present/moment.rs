//! Moments of the wall clock as people and files write them. The date by the usual count of days since 1970 in eras of 400
//! years (proleptic Gregorian calendar, own derivation).

use time::{Date, Month};

/// Of 1 January.
const JULIAN_DAY_OF_1970: i32 = 2_440_588;

/// Year, month, day, seconds of the day, of milliseconds since 1970, world time.
fn parts(unix_ms: f64) -> (i64, u32, u32, u32) {
    // Some ten thousand years either way; beyond, and for what is no number, 1970.
    let seconds = if unix_ms.abs() < 3e14 { (unix_ms / 1000.0).floor() as i64 } else { 0 };
    let (day, of_day) = (seconds.div_euclid(86_400), seconds.rem_euclid(86_400) as u32);
    // From 1 March of year 0, so that the leap day is the last of its year.
    let since = day + 719_468;
    let (era, of_era) = (since.div_euclid(146_097), since.rem_euclid(146_097));
    let year_of_era = (of_era - of_era / 1460 + of_era / 36_524 - of_era / 146_096) / 365;
    let of_year = of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
    let month = (5 * of_year + 2) / 153;
    let of_month = of_year - (153 * month + 2) / 5 + 1;
    let (month, later) = if month < 10 { (month + 3, 0) } else { (month - 9, 1) };
    (year_of_era + era * 400 + later, month as u32, of_month as u32, of_day)
}

/// `2026-11-26T03:44:36Z`.
pub fn iso(unix_ms: f64) -> String {
    let (year, month, day, of_day) = parts(unix_ms);
    let (hour, minute, second) = (of_day / 3600, of_day / 60 % 60, of_day % 60);
    format!("{year:04}-{month:02}-{day:02}T{hour:02}:{minute:02}:{second:02}Z")
}

/// `2026-11-26`, at so many minutes east of world time.
pub fn day(unix_ms: f64, east_min: f64) -> String {
    let (year, month, day, _) = parts(unix_ms + 60_000.0 * east_min);
    format!("{year:04}-{month:02}-{day:02}")
}

/// `03:44`, at so many minutes east of world time.
pub fn clock(unix_ms: f64, east_min: f64) -> String {
    let (_, _, _, of_day) = parts(unix_ms + 60_000.0 * east_min);
    format!("{:02}:{:02}", of_day / 3600, of_day / 60 % 60)
}

/// `2026-11-26 03:44`, at so many minutes east of world time.
pub fn minute(unix_ms: f64, east_min: f64) -> String {
    format!("{} {}", day(unix_ms, east_min), clock(unix_ms, east_min))
}

/// `2026-04-30` as a date.
pub fn date(text: &str) -> Option<Date> {
    let mut parts = text.trim().split('-');
    let (year, month, day) = (parts.next()?, parts.next()?, parts.next()?);
    if parts.next().is_some() || year.len() != 4 {
        return None;
    }
    let month = Month::try_from(month.parse::<u8>().ok()?).ok()?;
    Date::from_calendar_date(year.parse().ok()?, month, day.parse().ok()?).ok()
}

/// Milliseconds since 1970 of a moment as `iso` writes it, also without its seconds or with a blank; none for what is none.
pub fn from_iso(text: &str) -> Option<f64> {
    let (written, time) = text.trim().split_once(['T', ' '])?;
    let whole = |text: &str, most: i64| {
        let is_number = text.len() == 2 && text.bytes().all(|byte| byte.is_ascii_digit());
        text.parse::<i64>().ok().filter(|value| is_number && *value <= most)
    };
    let mut of_time = time.trim_end_matches('Z').split(':');
    let (hour, minutes) = (whole(of_time.next()?, 23)?, whole(of_time.next()?, 59)?);
    let seconds = of_time.next().map_or(Some(0), |text| whole(text, 59))?;
    if of_time.next().is_some() {
        return None;
    }
    let days = i64::from(date(written)?.to_julian_day() - JULIAN_DAY_OF_1970);
    let unix_ms = 1000.0 * (86_400 * days + 3600 * hour + 60 * minutes + seconds) as f64;
    // With all its digits.
    (day(unix_ms, 0.0) == written).then_some(unix_ms)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Dates by `date -u -d @SECONDS` (GNU coreutils).
    #[test]
    fn val_coreutils_dates() {
        for (seconds, expected) in [
            (0.0, "1970-01-01T00:00:00Z"),
            (951_782_400.0, "2000-02-29T00:00:00Z"),
            (1_795_664_676.0, "2026-11-26T03:44:36Z"),
            (4_107_542_399.0, "2100-02-28T23:59:59Z"),
            (-1.0, "1969-12-31T23:59:59Z"),
        ] {
            assert_eq!(iso(seconds * 1000.0), expected);
            assert_eq!(from_iso(expected), Some(seconds * 1000.0));
        }
        assert_eq!(day(1_795_664_676_000.0, -300.0), "2026-11-25");
        assert_eq!(clock(1_795_664_676_000.0, 60.0), "04:44");
        assert_eq!(from_iso("2026-11-26 03:44"), Some(1_795_664_640_000.0));
        for none in
            ["", "2026-02-30 10:00", "2026-13-01 10:00", "26-11-2026 10:00", "2026-11-26", "2026-11-26 24:00"]
        {
            assert_eq!(from_iso(none), None, "{none}");
        }
        assert_eq!(iso(f64::NAN), "1970-01-01T00:00:00Z");
    }
}
