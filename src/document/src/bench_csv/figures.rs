//! Figures as tables print them: decimal comma or point, groups of thousands, a unit behind.

/// What makers print where there is no figure.
const NO_FIGURE: [&str; 10] = ["", "-", "--", "\u{2013}", "\u{2014}", "\u{2212}", "/", "n/a", "na", "n.a."];

/// Units that may stand behind a figure or alone, in lower case.
const UNITS: [&str; 42] = [
    "%", "v", "vdc", "volt", "volts", "a", "adc", "amp", "amps", "g", "gf", "kg", "kgf", "n", "lb", "lbs",
    "lbf", "oz", "ozf", "w", "watt", "watts", "kw", "rpm", "r/min", "1/min", "min-1", "rev/min", "us",
    "\u{b5}s", "\u{3bc}s", "°c", "\u{2103}", "c", "g/w", "gf/w", "n/w", "kg/kw", "nm", "n·m", "n.m", "n*m",
];

/// Whether a cell stands for no figure.
pub(super) fn is_blank(cell: &str) -> bool {
    NO_FIGURE.contains(&cell.to_lowercase().as_str())
}

/// Whether a text is a unit alone, brackets around it allowed.
pub(super) fn is_unit(text: &str) -> bool {
    let bare = text.trim().trim_matches(['(', ')', '[', ']']).to_lowercase();
    UNITS.contains(&bare.as_str())
}

/// The unit behind a figure; empty where there is none.
pub(super) fn unit_behind(cell: &str) -> &str {
    let end = cell.rfind(|c: char| c.is_ascii_digit() || c == '.' || c == ',').map_or(0, |at| at + 1);
    cell.get(end..).unwrap_or_default().trim()
}

/// Whether a cell is a figure with nothing but a unit or a remark in brackets behind it.
pub(super) fn is_figure(cell: &str) -> bool {
    let behind = unit_behind(cell);
    let is_clean = behind.is_empty() || is_unit(behind) || behind.starts_with('(');
    is_clean && !cell.ends_with([',', ';']) && (number(cell, false).is_some() || number(cell, true).is_some())
}

/// A finite number, thousands separators and a unit behind it allowed.
pub(super) fn number(cell: &str, decimal_comma: bool) -> Option<f64> {
    let bare = cell.trim_end_matches(|c: char| !c.is_ascii_digit() && c != '.' && c != ',').trim();
    let (decimal, thousands) = if decimal_comma { (',', '.') } else { ('.', ',') };
    let (whole, part) = bare.split_once(decimal).unwrap_or((bare, ""));
    let mut groups = whole.split([thousands, ' ', '\u{a0}', '\u{2009}', '\u{202f}', '\'', '’']);
    let mut digits = groups.next()?.replace('\u{2212}', "-");
    for group in groups {
        if group.len() != 3 {
            return None;
        }
        digits.push_str(group);
    }
    let plain = |c: char| c.is_ascii_digit() || matches!(c, '+' | '-' | 'e' | 'E');
    if !digits.chars().all(plain) || !part.chars().all(plain) {
        return None;
    }
    format!("{digits}.{part}").parse().or_else(|_| bare.parse()).ok().filter(|value: &f64| value.is_finite())
}

/// Whether commas are decimal: a comma after which not exactly three digits stand, or one after a point. Where nothing
/// decides, a comma inside a cell of a text that is cut at commas sets thousands apart.
pub(super) fn has_decimal_comma<'a>(cells: impl Iterator<Item = &'a String>, cut_at_comma: bool) -> bool {
    let (mut comma, mut point, mut either) = (0_usize, 0_usize, 0_usize);
    for cell in cells.filter(|cell| cell.contains([',', '.'])) {
        let digits = cell.trim_end_matches(|c: char| !c.is_ascii_digit());
        let Some(at) = digits.rfind([',', '.']) else { continue };
        let last_is_comma = digits.get(at..).is_some_and(|rest| rest.starts_with(','));
        let other = if last_is_comma { '.' } else { ',' };
        let decided = digits.len() - at != 4 || digits.contains(other);
        match (decided, last_is_comma) {
            (true, true) => comma += 1,
            (true, false) => point += 1,
            (false, true) => either += 1,
            (false, false) => {}
        }
    }
    comma > point || (comma == 0 && point == 0 && either > 0 && !cut_at_comma)
}
