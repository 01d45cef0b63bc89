//! Moments of the wall clock as people and files write them. The date by the usual count of days since 1970 in eras of 400
//! years (proleptic Gregorian calendar, own derivation).

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
        }
        assert_eq!(day(1_795_664_676_000.0, -300.0), "2026-11-25");
        assert_eq!(clock(1_795_664_676_000.0, 60.0), "04:44");
        assert_eq!(iso(f64::NAN), "1970-01-01T00:00:00Z");
    }
}
