//! Times of the day as people write them.

use crate::error::DocumentError;

/// Seconds since midnight of `8:05`, `08:05` or `08:05:30`; up to two days, `26:30` is half past two of the next.
pub fn read(text: &str) -> Option<u32> {
    let parts: Vec<&str> = text.trim().split(':').collect();
    let (hours, minutes, seconds) = match parts.as_slice() {
        [hours, minutes] => (*hours, *minutes, "00"),
        [hours, minutes, seconds] => (*hours, *minutes, *seconds),
        _ => return None,
    };
    let number = |digits: &str, most: u32, length: core::ops::RangeInclusive<usize>| {
        let is_number = length.contains(&digits.len()) && digits.bytes().all(|byte| byte.is_ascii_digit());
        digits.parse::<u32>().ok().filter(|value| is_number && *value <= most)
    };
    let whole = number(hours, 47, 1..=2)? * 3600;
    Some(whole + number(minutes, 59, 2..=2)? * 60 + number(seconds, 59, 2..=2)?)
}

/// As `read`, at a field.
pub(crate) fn at(path: &str, text: &str) -> Result<u32, DocumentError> {
    let allowed = || "a time of the day: 08:05".to_owned();
    if text.trim().is_empty() {
        return Err(DocumentError::Missing { path: path.to_owned(), allowed: allowed() });
    }
    read(text).ok_or_else(|| DocumentError::Contradiction {
        path: path.to_owned(),
        value: text.to_owned(),
        allowed: allowed(),
    })
}

/// `08:05`, begun minutes rounded up; the next day's as `26:30`.
pub fn shown(seconds: f64) -> String {
    let minutes = (seconds.max(0.0) / 60.0 - 1e-6).ceil() as u32;
    format!("{:02}:{:02}", minutes / 60, minutes % 60)
}

/// `08:05:30`.
pub fn exact(seconds: f64) -> String {
    let whole = seconds.max(0.0).round() as u32;
    format!("{:02}:{:02}:{:02}", whole / 3600, whole / 60 % 60, whole % 60)
}
