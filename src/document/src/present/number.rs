//! Numbers as people type them: comma or point, spaces between thousands, a plus or a typographic minus.

use super::units::DecimalMark;

/// Between groups of three digits: U+202F, narrow and unbreakable.
pub const GROUP_SPACE: char = '\u{202f}';

/// What was typed is no clear number.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum NumberFault {
    /// Nothing was typed.
    Empty,
    /// Not a number.
    NotANumber,
    /// Comma and point together, or several of one: thousands or decimals?
    TwoMarks,
    /// One mark and three digits: 1,200 can be read as 1200 or as 1.2.
    ThousandsOrDecimals {
        /// The one reading.
        thousands: f64,
        /// The other.
        decimals: f64,
    },
}

/// Reads a number.
///
/// # Errors
/// `NumberFault` as its variants say. Infinity and NaN cannot be typed; `1e9` can.
pub fn read(text: &str) -> Result<f64, NumberFault> {
    let text = text.trim();
    if text.is_empty() {
        return Err(NumberFault::Empty);
    }
    let plain = plain_signs(text).ok_or(NumberFault::NotANumber)?;
    if plain.matches('.').count() > 1 {
        // A dot run like an address is no number at all; mixed or repeated marks look like thousands.
        let looks_grouped = groups_of_three(&plain);
        return Err(if looks_grouped { NumberFault::TwoMarks } else { NumberFault::NotANumber });
    }
    let decimals = plain.parse().map_err(|_| NumberFault::NotANumber)?;
    if unclear_thousands(&plain) {
        return Err(NumberFault::ThousandsOrDecimals { thousands: decimals * 1000.0, decimals });
    }
    Ok(decimals)
}

/// ASCII sign, digits, points and exponent only; None where another character or a misplaced space stands.
fn plain_signs(text: &str) -> Option<String> {
    let mut plain = String::with_capacity(text.len());
    let mut letters = text.chars().peekable();
    let mut digits_since_space = None;
    while let Some(letter) = letters.next() {
        if is_group_space(letter) {
            if plain.trim_start_matches(['-', '+']).is_empty() {
                continue;
            }
            let after_digit = plain.ends_with(|c: char| c.is_ascii_digit());
            let earlier_group_is_full = digits_since_space.is_none_or(|digits| digits == 3);
            if !after_digit || !earlier_group_is_full || plain.contains('.') {
                return None;
            }
            digits_since_space = Some(0);
            continue;
        }
        match letter {
            '0'..='9' => {
                plain.push(letter);
                if !plain.contains('.') {
                    digits_since_space = digits_since_space.map(|digits| digits + 1);
                }
            }
            '.' | ',' => plain.push('.'),
            '-' | '\u{2212}' | '\u{2013}' => plain.push('-'),
            '+' => plain.push('+'),
            'e' | 'E' if letters.peek().is_some() && !plain.is_empty() => plain.push('e'),
            _ => return None,
        }
    }
    digits_since_space.is_none_or(|digits| digits == 3).then_some(plain)
}

fn is_group_space(letter: char) -> bool {
    letter.is_whitespace() || matches!(letter, '\'' | '\u{2019}')
}

/// Whether every part after the first point but the last has three digits, as in 1.234.567 or 1.234.5.
fn groups_of_three(plain: &str) -> bool {
    let parts: Vec<&str> = plain.trim_start_matches(['-', '+']).split('.').collect();
    let all_digits = parts.iter().all(|part| !part.is_empty() && part.bytes().all(|b| b.is_ascii_digit()));
    let inner = parts.get(1..parts.len().saturating_sub(1)).unwrap_or_default();
    all_digits && inner.iter().all(|part| part.len() == 3)
}

/// One to three digits, a mark, exactly three digits, not beginning with zero.
fn unclear_thousands(plain: &str) -> bool {
    let Some((whole, rest)) = plain.trim_start_matches(['-', '+']).split_once('.') else { return false };
    rest.len() == 3
        && rest.bytes().all(|b| b.is_ascii_digit())
        && (1..=3).contains(&whole.len())
        && !whole.starts_with('0')
}

/// From here on no digit behind the first sixteen is known, and a row of zeros says nothing.
const TOO_LONG: f64 = 1e15;

/// Writes a number with so many decimals, trailing zeros kept, thousands set apart from five digits on; one with more than
/// fifteen digits as 1.5e300.
pub fn write(number: f64, decimals: usize, mark: DecimalMark) -> String {
    let is_too_long = number.abs() >= TOO_LONG;
    let text = if is_too_long { format!("{number:e}") } else { format!("{number:.decimals$}") };
    // No "-0".
    let is_zero = text.bytes().all(|b| matches!(b, b'-' | b'0' | b'.'));
    let (sign, digits) = match text.strip_prefix('-') {
        Some(rest) if is_zero => ("", rest),
        Some(rest) => ("\u{2212}", rest),
        None => ("", text.as_str()),
    };
    let (whole, fraction) = digits.split_once('.').unwrap_or((digits, ""));
    let mut written = String::from(sign);
    for (index, digit) in whole.chars().enumerate() {
        if index > 0 && !is_too_long && whole.len() > 4 && (whole.len() - index) % 3 == 0 {
            written.push(GROUP_SPACE);
        }
        written.push(digit);
    }
    if !fraction.is_empty() {
        written.push(if mark == DecimalMark::Comma { ',' } else { '.' });
        written.push_str(fraction);
    }
    written
}

/// As `write`, without trailing zeros behind the mark.
pub fn write_trimmed(number: f64, decimals: usize, mark: DecimalMark) -> String {
    let written = write(number, decimals, mark);
    if written.contains(['.', ',']) && !written.contains('e') {
        written.trim_end_matches('0').trim_end_matches(['.', ',']).to_owned()
    } else {
        written
    }
}
