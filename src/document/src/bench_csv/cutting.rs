//! A text cut into cells: at tabs, semicolons, commas or bars; at runs of spaces; at every space; or a cell a line.

use super::figures::{is_figure, is_unit};
use super::{MOST_COLUMNS, MOST_ROWS};

/// Lines that the choice is made by.
const LINES_JUDGED: usize = 200;

/// What parts one cell from the next.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Cut {
    /// One character.
    At(u8),
    /// Two spaces or more, or a tab.
    Wide,
    /// Any space.
    Spaces,
    /// The end of a line.
    Lines,
}

/// One line in cells.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct Line {
    /// Number in the text, from 1.
    pub number: u64,
    /// Cells, trimmed.
    pub cells: Vec<String>,
    /// First and last letter of each cell in its line; none where the line was cut at a character.
    pub places: Vec<(usize, usize)>,
}

impl Line {
    /// Figures at its end.
    pub fn run(&self) -> usize {
        self.cells.iter().rev().take_while(|cell| is_figure(cell) || super::figures::is_blank(cell)).count()
    }

    /// How many of its cells are figures.
    pub fn figures(&self) -> usize {
        self.cells.iter().filter(|cell| is_figure(cell)).count()
    }

    /// Its words.
    pub fn words(&self) -> String {
        self.cells.iter().filter(|cell| !cell.is_empty()).cloned().collect::<Vec<_>>().join(" ")
    }

    /// Whether it may be a row of the table.
    pub fn is_row(&self, cut: Cut) -> bool {
        match cut {
            Cut::At(_) => self.figures() >= 2,
            Cut::Lines => false,
            Cut::Wide | Cut::Spaces => {
                let labels = self.cells.len().saturating_sub(self.run());
                let named = |cell: &String| cell.chars().any(|c| c.is_alphabetic() || matches!(c, '*' | '×'));
                let figures = self.cells.iter().skip(labels).filter(|cell| is_figure(cell)).count();
                figures >= 3 && self.cells.iter().take(labels).all(named)
            }
        }
    }
}

/// Cuts a text the way that makes most of its lines alike.
pub(super) fn cut(text: &str) -> (Cut, Vec<Line>) {
    let judged: Vec<&str> = text.lines().filter(|line| !line.trim().is_empty()).take(LINES_JUDGED).collect();
    let judged = judged.join("\n");
    let mut best = (0, Cut::Lines);
    for way in [Cut::At(b'\t'), Cut::At(b';'), Cut::At(b','), Cut::At(b'|'), Cut::Wide, Cut::Spaces] {
        let alike = alike(way, &lines(way, &judged));
        if alike > best.0 {
            best = (alike, way);
        }
    }
    (best.1, lines(best.1, text))
}

/// Rows with as many cells as most have; between spaces their number may differ.
fn alike(way: Cut, lines: &[Line]) -> usize {
    let rows = lines.iter().filter(|line| line.is_row(way));
    match way {
        Cut::At(_) => {
            let widths: Vec<usize> = rows.map(|line| line.cells.len()).collect();
            widths
                .iter()
                .map(|width| widths.iter().filter(|other| *other == width).count())
                .max()
                .unwrap_or(0)
        }
        Cut::Wide | Cut::Spaces | Cut::Lines => rows.count(),
    }
}

fn lines(way: Cut, text: &str) -> Vec<Line> {
    let ruled = |line: &Line| {
        line.cells.iter().all(|cell| cell.chars().all(|c| matches!(c, '-' | '=' | ':' | '+' | '_')))
    };
    let mut lines = match way {
        Cut::At(b'|') => {
            let bare: Vec<&str> = text.lines().map(|line| line.trim().trim_matches('|')).collect();
            at(&bare.join("\n"), b'|')
        }
        Cut::At(delimiter) => at(text, delimiter),
        _ => text
            .lines()
            .enumerate()
            .map(|(number, line)| between_spaces(way, number as u64 + 1, line))
            .collect(),
    };
    lines.retain(|line| !ruled(line) || line.cells.iter().any(|cell| cell.len() == 1));
    lines
}

/// Cut at a character, quotes as a spreadsheet writes them.
fn at(text: &str, delimiter: u8) -> Vec<Line> {
    let bytes = text.as_bytes();
    let (mut at, mut line) = (0, 1);
    csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(delimiter)
        .from_reader(bytes)
        .records()
        .filter_map(Result::ok)
        .map(|record| {
            // A record's position may lie before empty lines: its line is that of the first byte after them.
            let start = record.position().map_or(0, |position| position.byte() as usize);
            let empty = bytes.iter().skip(start).take_while(|byte| matches!(byte, b'\r' | b'\n')).count();
            let first = start + empty;
            let passed = text.get(at..first).unwrap_or_default();
            line += passed.matches('\n').count() as u64;
            at = first.max(at);
            let cells = record.iter().take(MOST_COLUMNS).map(|cell| cell.trim().to_owned()).collect();
            Line { number: line, cells, places: Vec::new() }
        })
        .filter(|row| row.cells.iter().any(|cell| !cell.is_empty()))
        .take(2 * MOST_ROWS)
        .collect()
}

fn between_spaces(way: Cut, number: u64, line: &str) -> Line {
    let letters: Vec<char> = line.chars().collect();
    let mut cut = Line { number, ..Line::default() };
    let mut from = 0;
    while let Some(start) = (from..letters.len()).find(|&at| !is_space(&letters, at)) {
        let mut end = start;
        while end < letters.len() && !parts(way, &letters, end) {
            end += 1;
        }
        let cell: String = letters.get(start..end).unwrap_or_default().iter().collect();
        let cell = cell.trim().to_owned();
        let figure_before = cut
            .cells
            .last()
            .is_some_and(|last| is_figure(last) && super::figures::unit_behind(last).is_empty());
        match (cut.cells.last_mut(), cut.places.last_mut()) {
            (Some(last), Some(place)) if way == Cut::Spaces && figure_before && is_unit(&cell) => {
                *last = format!("{last} {cell}");
                place.1 = end;
            }
            _ => {
                cut.cells.push(cell);
                cut.places.push((start, end));
            }
        }
        from = end;
        if cut.cells.len() >= MOST_COLUMNS {
            break;
        }
    }
    cut
}

/// A space, but for one that sets thousands apart.
fn is_space(letters: &[char], at: usize) -> bool {
    let is_digit = |at: Option<usize>| at.and_then(|at| letters.get(at)).is_some_and(char::is_ascii_digit);
    match letters.get(at) {
        Some('\u{a0}' | '\u{2009}' | '\u{202f}') => {
            let three = (1..=3).all(|more| is_digit(Some(at + more))) && !is_digit(Some(at + 4));
            !(three && is_digit(at.checked_sub(1)))
        }
        Some(letter) => letter.is_whitespace(),
        None => true,
    }
}

fn parts(way: Cut, letters: &[char], at: usize) -> bool {
    match way {
        Cut::Lines => false,
        Cut::Wide => is_space(letters, at) && (letters.get(at) == Some(&'\t') || is_space(letters, at + 1)),
        Cut::At(_) | Cut::Spaces => is_space(letters, at),
    }
}
