//! Several tables in one text: where the throttle starts over, another rotor begins.

use super::figures::{is_figure, number};
use super::titles::{Quantity, quantity};
use super::{Columns, Part, Sheet};

/// A fall by more of the whole range is a new beginning, not scatter.
const FALL: f64 = 0.4;
/// Fewer rows are no table of their own.
const FEWEST_ROWS: usize = 3;
const INCH_MM: f64 = 25.4;

/// The tables in a sheet, at least one.
pub(super) fn parts_of(sheet: &Sheet, columns: &Columns) -> Vec<Part> {
    let index = columns.throttle.map(|(index, _)| index).or(columns.thrust.map(|(index, _)| index));
    let value = |row: usize| number(sheet.rows.get(row)?.cells.get(index?)?, sheet.decimal_comma);
    let values: Vec<Option<f64>> = (0..sheet.rows.len()).map(value).collect();
    let (least, most) = values
        .iter()
        .flatten()
        .fold((f64::MAX, f64::MIN), |(least, most), value| (least.min(*value), most.max(*value)));
    let rises = steps(&values).filter(|(_, step)| *step > 0.0).count();
    let sign = if 2 * rises >= steps(&values).count() { 1.0 } else { -1.0 };
    let mut starts = vec![0];
    for (row, step) in steps(&values) {
        let begun = starts.last().copied().unwrap_or(0);
        if sign * step < -FALL * (most - least)
            && row - begun >= FEWEST_ROWS
            && sheet.rows.len() - row >= FEWEST_ROWS
        {
            starts.push(row);
        }
    }
    let ends: Vec<usize> = starts.iter().skip(1).copied().chain([sheet.rows.len()]).collect();
    let part = |(first, end): (usize, usize)| {
        let name = name_of(sheet, first, starts.len() > 1);
        Part { rotor_mm: rotor_mm(&name), name, first, rows: end.saturating_sub(first) }
    };
    starts.iter().copied().zip(ends).map(part).collect()
}

fn steps(values: &[Option<f64>]) -> impl Iterator<Item = (usize, f64)> {
    values.windows(2).enumerate().filter_map(|(row, pair)| match pair {
        [Some(before), Some(after)] => Some((row + 1, after - before)),
        _ => None,
    })
}

/// What is printed beside the first row or in the last line above it; of the only table all that stands around it.
fn name_of(sheet: &Sheet, first: usize, is_one_of_several: bool) -> String {
    let Some(row) = sheet.rows.get(first) else { return String::new() };
    let names = sheet.headers.iter().zip(&row.cells).filter(|(title, cell)| {
        quantity(title) == Some(Quantity::Name) || (!cell.is_empty() && !is_figure(cell))
    });
    let beside =
        names.map(|(_, cell)| cell.clone()).filter(|cell| !cell.is_empty()).collect::<Vec<_>>().join(" ");
    if !beside.is_empty() {
        return beside;
    }
    let before = first.checked_sub(1).and_then(|row| sheet.rows.get(row)).map_or(0, |row| row.line);
    let around = sheet
        .left_out
        .iter()
        .filter(|line| !is_one_of_several || (line.line > before && line.line < row.line));
    around.map(|line| line.text.clone()).collect::<Vec<_>>().join(" ")
}

/// The rotor diameter that words state: *26 x 8.5* in inches, or *660 mm*.
fn rotor_mm(words: &str) -> Option<u32> {
    let lower = words.to_lowercase().replace(['×', '*'], "x").replace(" x ", "x");
    for word in lower.split(|c: char| c.is_whitespace() || matches!(c, '(' | ')' | ',' | ';' | ':' | '/')) {
        let Some((diameter, pitch)) = word.split_once('x') else { continue };
        let plain = |text: &str| text.trim_matches(|c: char| !c.is_ascii_digit()).parse::<f64>().ok();
        let (Some(diameter), Some(pitch)) = (plain(diameter), plain(pitch)) else { continue };
        if (4.0..=80.0).contains(&diameter) && pitch < diameter {
            return Some((diameter * INCH_MM).round() as u32);
        }
    }
    let words: Vec<&str> = lower.split_whitespace().collect();
    let is_rotor = ["rotor", "prop", "blade", "diameter"].iter().any(|word| lower.contains(word));
    let in_mm = words.iter().enumerate().find_map(|(at, word)| {
        let next_is_mm = words.get(at + 1).is_some_and(|next| next.starts_with("mm"));
        let bare = word.strip_suffix("mm").or(next_is_mm.then_some(*word))?;
        bare.parse::<u32>().ok().filter(|diameter| (100..=2000).contains(diameter))
    });
    in_mm.filter(|_| is_rotor)
}
