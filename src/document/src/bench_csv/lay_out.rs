//! Lines put under their titles: which line is the header, which cell belongs to which column, what is no row.

use super::cutting::{Cut, Line};
use super::figures::{is_blank, is_figure, is_unit};
use super::one_a_line::one_a_line;
use super::titles::{Quantity, grouped, known, quantity};
use super::{BenchCsvError, LeftOut, SheetRow};

/// Lines under their titles.
#[derive(Default)]
pub(super) struct Laid {
    pub headers: Vec<String>,
    pub rows: Vec<SheetRow>,
    pub left_out: Vec<LeftOut>,
    /// Units of a line that could not be given to its columns.
    pub loose_units: String,
    pub fault: Option<BenchCsvError>,
}

/// Titles over the lines: words, where they stand, the line they are from.
#[derive(Default)]
struct Header {
    titles: Vec<String>,
    places: Vec<(usize, usize)>,
    /// Lines that it is made of.
    lines: Vec<usize>,
    loose_units: String,
}

/// Puts lines under their titles.
pub(super) fn lay_out(cut: Cut, lines: &[Line]) -> Laid {
    if let Some(turned) = turned(lines) {
        return turned;
    }
    if cut == Cut::Lines {
        return one_a_line(lines);
    }
    let Some(first) = lines.iter().position(|line| line.is_row(cut)) else {
        return Laid { left_out: lines.iter().map(left_out).collect(), ..Laid::default() };
    };
    let last = lines.iter().rposition(|line| line.is_row(cut)).unwrap_or(first);
    let header =
        header(cut, lines.get(..first).unwrap_or_default(), lines.get(first..=last).unwrap_or_default());
    let mut laid = Laid { loose_units: header.loose_units.clone(), ..Laid::default() };
    let width = width(cut, &header, lines);
    for (index, line) in lines.iter().enumerate() {
        let inside = index > first && index < last;
        if header.lines.contains(&index) || (index > first && line.words() == laid_title(&header)) {
            continue;
        }
        if line.is_row(cut) || (inside && is_damaged(cut, line)) {
            match cells(cut, line, &header, width) {
                Some(cells) => laid.rows.push(SheetRow { line: line.number, cells }),
                None => {
                    laid.fault = laid.fault.or(Some(BenchCsvError::CellsMissing {
                        line: line.number,
                        cells: line.cells.len(),
                        columns: width,
                    }));
                }
            }
        } else {
            laid.left_out.push(left_out(line));
        }
    }
    let titles = header.titles.into_iter().chain(core::iter::repeat(String::new())).take(width).enumerate();
    let named = |(index, title): (usize, String)| {
        if title.is_empty() { format!("column {}", index + 1) } else { title }
    };
    laid.headers = titles.map(named).collect();
    laid
}

pub(super) fn left_out(line: &Line) -> LeftOut {
    LeftOut { line: line.number, text: line.words() }
}

fn laid_title(header: &Header) -> String {
    header.titles.join(" ")
}

/// A line among rows with one figure and something else: a row with a fault, not a note.
fn is_damaged(cut: Cut, line: &Line) -> bool {
    let filled = line.cells.iter().filter(|cell| !cell.is_empty()).count();
    matches!(cut, Cut::At(_)) && line.figures() >= 1 && filled >= 2
}

fn header(cut: Cut, above: &[Line], rows: &[Line]) -> Header {
    let run = most_common(rows.iter().filter(|line| line.is_row(cut)).map(Line::run));
    let cells = most_common(rows.iter().filter(|line| line.is_row(cut)).map(|line| line.cells.len()));
    let titles = |line: &Line| -> (Vec<String>, Vec<(usize, usize)>) {
        let own = || (line.cells.clone(), line.places.clone());
        match cut {
            Cut::At(_) => own(),
            Cut::Wide if line.cells.len() >= run.max(cells) && line.cells.len() <= cells.max(run) + 3 => {
                own()
            }
            _ => {
                let words: Vec<String> =
                    line.cells.iter().flat_map(|cell| cell.split_whitespace()).map(str::to_owned).collect();
                let ways = [grouped(&words, false), grouped(&words, true)];
                let fits = |titles: &Vec<String>| titles.len() == run || titles.len() == cells;
                let fitting = ways
                    .iter()
                    .find(|titles| fits(titles))
                    .or_else(|| ways.iter().find(|titles| titles.len() > run));
                (fitting.unwrap_or(&ways[0]).clone(), Vec::new())
            }
        }
    };
    let scored = above.iter().enumerate().map(|(index, line)| (known(&titles(line).0), index));
    let best = scored.max().filter(|(score, _)| *score >= 2);
    let mut header = Header::default();
    match best {
        Some((_, index)) => {
            (header.titles, header.places) = above.get(index).map(&titles).unwrap_or_default();
            header.lines.push(index);
            for (more, line) in above.iter().enumerate().skip(index + 1) {
                add_below(&mut header, more, line);
            }
        }
        // No word is known: the lines just above the figures, where they are cut like them.
        None if matches!(cut, Cut::At(_)) => {
            let worded = |line: &&Line| {
                line.figures() == 0 && line.cells.iter().filter(|cell| !cell.is_empty()).count() > 1
            };
            let count = above.iter().rev().take_while(worded).take(2).count();
            for (index, line) in above.iter().enumerate().skip(above.len() - count) {
                add_below(&mut header, index, line);
            }
        }
        None => {}
    }
    header
}

/// A line between the header and the figures: units or more words of the titles.
fn add_below(header: &mut Header, index: usize, line: &Line) {
    if line.figures() > 0 {
        return;
    }
    let units = line.cells.iter().filter(|cell| !cell.is_empty()).all(|cell| is_unit(cell) || is_blank(cell));
    let same = line.places.is_empty() || line.cells.len() == header.titles.len();
    if same && (line.places.is_empty() || units) {
        header.titles.resize(header.titles.len().max(line.cells.len()), String::new());
        for (title, cell) in header.titles.iter_mut().zip(&line.cells) {
            format!("{title} {cell}").trim().clone_into(title);
        }
    } else if units
        && !header.places.is_empty()
        && line.places.iter().all(|place| under(*place, &header.places).is_some())
    {
        for (cell, place) in line.cells.iter().zip(&line.places) {
            if let Some(title) =
                under(*place, &header.places).and_then(|column| header.titles.get_mut(column))
            {
                *title = format!("{title} {cell}");
            }
        }
    } else if units {
        header.loose_units = format!("{} {}", header.loose_units, line.words());
    } else {
        return;
    }
    header.lines.push(index);
}

/// The one column that a cell stands under.
fn under(place: (usize, usize), columns: &[(usize, usize)]) -> Option<usize> {
    let mut touching =
        columns.iter().enumerate().filter(|(_, column)| place.0 < column.1 && column.0 < place.1);
    let only = touching.next()?.0;
    touching.next().is_none().then_some(only)
}

fn most_common(counts: impl Iterator<Item = usize>) -> usize {
    let counts: Vec<usize> = counts.collect();
    let often = |count: &usize| counts.iter().filter(|other| *other == count).count();
    counts.iter().copied().max_by_key(|count| (often(count), *count)).unwrap_or(0)
}

fn width(cut: Cut, header: &Header, lines: &[Line]) -> usize {
    let rows = || lines.iter().filter(|line| line.is_row(cut));
    match cut {
        Cut::At(_) if header.titles.is_empty() || known(&header.titles) < 2 => {
            rows().map(|line| line.cells.len()).max().unwrap_or(0).max(header.titles.len())
        }
        Cut::Wide if header.titles.is_empty() => most_common(rows().map(|line| line.cells.len())),
        Cut::Spaces if header.titles.is_empty() => most_common(rows().map(Line::run)),
        _ => header.titles.len(),
    }
}

/// The cells of a line under their columns; none where that cannot be told.
fn cells(cut: Cut, line: &Line, header: &Header, width: usize) -> Option<Vec<String>> {
    match cut {
        Cut::At(_) => {
            let beyond = line.cells.iter().skip(width).any(|cell| !cell.is_empty());
            (!beyond).then(|| line.cells.iter().take(width).cloned().collect())
        }
        Cut::Wide if line.cells.len() == width => Some(line.cells.clone()),
        Cut::Wide => by_place(line, header, width).or_else(|| by_run(line, header, width)),
        Cut::Spaces | Cut::Lines => by_run(line, header, width),
    }
}

/// By the titles that the cells stand under.
fn by_place(line: &Line, header: &Header, width: usize) -> Option<Vec<String>> {
    if header.places.len() != width {
        return None;
    }
    let mut cells = vec![String::new(); width];
    for (cell, place) in line.cells.iter().zip(&line.places) {
        let own = cells.get_mut(under(*place, &header.places)?)?;
        if !own.is_empty() {
            return None;
        }
        own.clone_from(cell);
    }
    Some(cells)
}

/// By the figures at the end of the line. What is missing before them must be what is printed once for many rows: names and
/// the voltage.
fn by_run(line: &Line, header: &Header, width: usize) -> Option<Vec<String>> {
    let says = |column: usize| header.titles.get(column).and_then(|title| quantity(title));
    let named = says(0) == Some(Quantity::Name);
    let words = line.cells.len() - line.run();
    let label = line.cells.get(..words).unwrap_or_default().join(" ");
    // A name may end with a figure.
    let most = if named { width - 1 } else { width };
    let run = line.run().min(if label.is_empty() { width } else { most });
    let blanks = width.checked_sub(run)?;
    let too_many = line.run() > run && label.is_empty();
    let unnamed = !label.is_empty() && blanks == 0 && !header.titles.is_empty();
    let merged = (0..blanks).all(|column| matches!(says(column), Some(Quantity::Name | Quantity::Voltage)));
    if too_many || unnamed || !merged {
        return None;
    }
    let mut cells = vec![String::new(); blanks];
    if let Some(first) = cells.first_mut() {
        *first = label;
    }
    cells.extend(line.cells.iter().skip(line.cells.len() - run).cloned());
    Some(cells)
}

/// A table that lies on its side: each line a quantity and its figures.
pub(super) fn turned(lines: &[Line]) -> Option<Laid> {
    let is_series = |line: &&Line| {
        let words = line.cells.len() - line.run();
        let label = line.cells.get(..words).unwrap_or_default().join(" ");
        line.figures() >= 2
            && line.run() >= 2
            && words >= 1
            && quantity(&label).is_some_and(|is| is != Quantity::Name)
    };
    let series: Vec<&Line> = lines.iter().filter(is_series).collect();
    let columns = most_common(series.iter().map(|line| line.run()));
    let titles = |line: &&Line| line.cells.get(..line.cells.len() - line.run()).unwrap_or_default().join(" ");
    let headers: Vec<String> = series.iter().map(titles).collect();
    if known(&headers) < 3 {
        return None;
    }
    let uneven = series.iter().find(|line| line.run() != columns);
    let fault =
        uneven.map(|line| BenchCsvError::CellsMissing { line: line.number, cells: line.run(), columns });
    let cell = |line: &&Line, at: usize| {
        line.cells.get(line.cells.len() - line.run() + at).cloned().unwrap_or_default()
    };
    let rows = (0..columns).map(|at| SheetRow {
        line: series.first().map_or(1, |line| line.number),
        cells: series.iter().map(|line| cell(line, at)).collect(),
    });
    Some(Laid {
        rows: rows.filter(|row| row.cells.iter().any(|cell| is_figure(cell))).collect(),
        left_out: lines.iter().filter(|line| !is_series(line)).map(left_out).collect(),
        headers,
        fault,
        ..Laid::default()
    })
}
