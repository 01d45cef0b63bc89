//! Lines cut into cells, cells read as numbers: by bytes, since half a million rows are to be read in a moment.

/// Places of the cells of a line.
pub(super) fn split<'a>(line: &'a [u8], delimiter: u8, cells: &mut Vec<&'a [u8]>) {
    cells.clear();
    if delimiter == b' ' {
        cells.extend(line.split(u8::is_ascii_whitespace).filter(|cell| !cell.is_empty()));
        return;
    }
    if !line.contains(&b'"') {
        cells.extend(line.split(|byte| *byte == delimiter).map(<[u8]>::trim_ascii));
        return;
    }
    let (mut from, mut quoted) = (0, false);
    for (at, byte) in line.iter().enumerate() {
        match *byte {
            b'"' => quoted = !quoted,
            byte if byte == delimiter && !quoted => {
                cells.push(bare(line.get(from..at).unwrap_or_default()));
                from = at + 1;
            }
            _ => {}
        }
    }
    cells.push(bare(line.get(from..).unwrap_or_default()));
}

/// Without the quotes around it.
fn bare(cell: &[u8]) -> &[u8] {
    let cell = cell.trim_ascii();
    let inner = cell.strip_prefix(b"\"").and_then(|cell| cell.strip_suffix(b"\""));
    inner.unwrap_or(cell).trim_ascii()
}

/// The largest mantissa that one more digit cannot overflow.
const FULL: u64 = (u64::MAX - 9) / 10;
/// Powers of ten that are exact.
const EXACT: [f64; 23] = [
    1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18,
    1e19, 1e20, 1e21, 1e22,
];

/// A finite number, perhaps with a unit behind it. In a file with decimal commas a point sets thousands apart, and the other
/// way round.
pub(super) fn number(cell: &[u8], decimal_comma: bool) -> Option<f64> {
    let (negative, digits) = match cell {
        // The second is the minus sign of typesetters.
        [b'-', rest @ ..] | [0xE2, 0x88, 0x92, rest @ ..] => (true, rest),
        [b'+', rest @ ..] => (false, rest),
        other => (false, other),
    };
    let (mark, apart) = if decimal_comma { (b',', b'.') } else { (b'.', b',') };
    let (mut mantissa, mut places, mut seen, mut after_mark) = (0_u64, 0_usize, false, false);
    // Digits since thousands were set apart: three, or it was something else.
    let mut group = None::<u8>;
    let mut end = digits.len();
    for (at, byte) in digits.iter().enumerate() {
        match *byte {
            digit @ b'0'..=b'9' => {
                seen = true;
                if !after_mark {
                    group = group.map(|count| count.saturating_add(1));
                }
                if mantissa <= FULL {
                    mantissa = mantissa * 10 + u64::from(digit - b'0');
                    places += usize::from(after_mark);
                } else if !after_mark {
                    return by_library(digits, negative, decimal_comma);
                }
            }
            byte if byte == mark && !after_mark => after_mark = true,
            byte if byte == apart && seen && !after_mark && group.is_none_or(|count| count == 3) => {
                group = Some(0);
            }
            b'e' | b'E' if seen => return by_library(digits, negative, decimal_comma),
            _ => {
                end = at;
                break;
            }
        }
    }
    if !seen || group.is_some_and(|count| count != 3) || !is_unit(digits.get(end..).unwrap_or_default()) {
        return None;
    }
    let value = mantissa as f64 / EXACT.get(places)?;
    Some(if negative { -value } else { value })
}

/// What may stand behind a number: nothing, or letters and signs, no further figure.
fn is_unit(rest: &[u8]) -> bool {
    rest.len() <= 8
        && rest.iter().all(|byte| byte.is_ascii_alphabetic() || b" %/\xB0\xC2\xB5\xC3".contains(byte))
}

fn by_library(digits: &[u8], negative: bool, decimal_comma: bool) -> Option<f64> {
    let text = core::str::from_utf8(digits).ok()?;
    let text = if decimal_comma { text.replace('.', "").replace(',', ".") } else { text.replace(',', "") };
    let value: f64 = text.trim().parse().ok()?;
    value.is_finite().then_some(if negative { -value } else { value })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn regress_numbers_as_recorders_write_them() {
        let table: &[(&str, bool, Option<f64>)] = &[
            ("50.12", false, Some(50.12)),
            ("50,12", true, Some(50.12)),
            ("-0.5", false, Some(-0.5)),
            ("\u{2212}0.5", false, Some(-0.5)),
            ("1.234,5", true, Some(1234.5)),
            ("1,234.5", false, Some(1234.5)),
            ("50.1V", false, Some(50.1)),
            ("12 %", false, Some(12.0)),
            ("1e3", false, Some(1000.0)),
            ("2,5E-1", true, Some(0.25)),
            (".5", false, Some(0.5)),
            ("5.", false, Some(5.0)),
            ("1732590000123456789", false, Some(1_732_590_000_123_456_789.0)),
            ("123456789012345678901234", false, Some(123_456_789_012_345_680_000_000.0)),
            ("0.12345678901234567890123", false, Some(0.123_456_789_012_345_68)),
            ("12,5", false, None),
            ("1,234,567", false, Some(1_234_567.0)),
            ("", false, None),
            ("-", false, None),
            ("V", false, None),
            ("12:30", false, None),
            ("1 2", false, None),
            ("nan", false, None),
            ("inf", false, None),
            ("1e999", false, None),
        ];
        for (cell, decimal_comma, expected) in table {
            assert_eq!(number(cell.as_bytes(), *decimal_comma), *expected, "{cell}");
        }
    }

    #[test]
    fn regress_quotes_hold_a_delimiter() {
        let mut cells = Vec::new();
        split(b"\"1,5\", 2 ,\"\",x", b',', &mut cells);
        assert_eq!(cells, [&b"1,5"[..], b"2", b"", b"x"]);
        split(b" 1   2\t3 ", b' ', &mut cells);
        assert_eq!(cells, [b"1", b"2", b"3"]);
    }
}
