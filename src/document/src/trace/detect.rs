//! What the first lines of a recording say of the rest: delimiter, decimal mark, titles, which column holds what.

use serde::{Deserialize, Serialize};

use super::cells::{number, split};
use super::clock::{TimeForm, clock_s, form_of};
use super::notes::TraceFault;

/// A column with what its figures are to be multiplied with, for V, A, mAh, m, m/s.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Chosen {
    /// From 0.
    pub column: usize,
    /// 0.001 for a column of millivolts.
    pub scale: f64,
}

/// Which column holds what.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
pub struct TraceColumns {
    /// The time and its form; needed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub time: Option<(usize, TimeForm)>,
    /// Volts of the bus.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub voltage: Option<Chosen>,
    /// Amperes.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub current: Option<Chosen>,
    /// mAh used.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub used: Option<Chosen>,
    /// Metres.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub altitude: Option<Chosen>,
    /// Metres per second.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub speed: Option<Chosen>,
}

impl TraceColumns {
    /// Each figure with its name.
    pub fn figures(&self) -> [(&'static str, Option<Chosen>); 5] {
        [
            ("voltage", self.voltage),
            ("current", self.current),
            ("used", self.used),
            ("altitude", self.altitude),
            ("speed", self.speed),
        ]
    }

    pub(super) fn check(&self, width: usize) -> Result<(), TraceFault> {
        let is_there = |quantity, index| {
            if index < width { Ok(()) } else { Err(TraceFault::NoSuchColumn { quantity, index }) }
        };
        let Some((time, _)) = self.time else { return Err(TraceFault::NoTime) };
        is_there("time", time)?;
        for (quantity, chosen) in self.figures() {
            chosen.map_or(Ok(()), |chosen| is_there(quantity, chosen.column))?;
        }
        let has_figures = self.voltage.is_some() || self.current.is_some() || self.used.is_some();
        if has_figures { Ok(()) } else { Err(TraceFault::NoFigures) }
    }
}

/// What the first lines say.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Detected {
    /// Between the cells.
    pub delimiter: char,
    /// Whether numbers have a decimal comma.
    pub decimal_comma: bool,
    /// Titles; "column 1" and so on where the file has none.
    pub titles: Vec<String>,
    /// Lines above the first row.
    pub lines_above: usize,
    /// The first rows as text, to choose columns by.
    pub first_rows: Vec<Vec<String>>,
    /// Which column holds what.
    pub columns: TraceColumns,
    /// What each column would be taken for, whatever it is chosen to hold.
    pub(super) taken_for: Vec<TakenFor>,
}

/// A column's unit by its title and figures.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub(super) struct TakenFor {
    form: TimeForm,
    /// In the order of `TraceColumns::figures`.
    scales: [f64; 5],
}

impl Detected {
    /// A column chosen by hand to hold the time.
    pub fn as_time(&self, column: usize) -> (usize, TimeForm) {
        (column, self.taken_for.get(column).map_or(TimeForm::Seconds, |taken| taken.form))
    }

    /// A column chosen by hand to hold a figure, named as in `TraceColumns::figures`: in the unit that its title and figures say.
    pub fn as_figure(&self, name: &str, column: usize) -> Chosen {
        let place = self.columns.figures().iter().position(|(own, _)| *own == name);
        let scale = self.taken_for.get(column).zip(place).and_then(|(taken, place)| taken.scales.get(place));
        Chosen { column, scale: scale.copied().unwrap_or(1.0) }
    }

    /// The title of a column with its first figure.
    pub fn shown(&self, column: usize) -> String {
        let title = self.titles.get(column).map_or("", String::as_str);
        match self.first_rows.first().and_then(|cells| cells.get(column)) {
            Some(cell) => format!("{title} ({cell})"),
            None => title.to_owned(),
        }
    }
}

/// In this order where several cut the lines alike: a comma may be decimal, a space may stand in a date.
const DELIMITERS: [u8; 5] = [b'\t', b';', b'|', b',', b' '];
const LOOKED_AT: usize = 200;
const SHOWN: usize = 5;
/// More than any recorder has; those behind are not offered.
const MOST_COLUMNS: usize = 1000;

/// Looks at the first lines.
pub(super) fn detect(head: &[&[u8]]) -> Result<Detected, TraceFault> {
    let lines: Vec<&[u8]> = head.iter().copied().take(LOOKED_AT).collect();
    let delimiter = DELIMITERS.into_iter().fold((b',', 0), |best, delimiter| {
        let alike = alike(&lines, delimiter);
        if alike > best.1 { (delimiter, alike) } else { best }
    });
    let delimiter = delimiter.0;
    let rows: Vec<Vec<&[u8]>> = lines.iter().map(|line| cut(line, delimiter)).collect();
    let decimal_comma = delimiter != b',' && has_decimal_comma(&rows);
    let width = usual_width(&rows);
    let is_row = |cells: &&Vec<&[u8]>| {
        let figures = cells.iter().filter(|cell| figure(cell, decimal_comma).is_some()).count();
        cells.len().abs_diff(width) <= 1 && figures >= 2.min(width) && 2 * figures >= filled(cells)
    };
    let first = rows.iter().position(|cells| is_row(&cells)).ok_or(TraceFault::NoRows)?;
    let above = rows.get(..first).unwrap_or_default();
    let width = rows.get(first).map_or(width, Vec::len).max(width);
    let titles = titles(above, width);
    let data: Vec<&Vec<&[u8]>> = rows.iter().skip(first).filter(is_row).collect();
    let text = |cell: &&[u8]| String::from_utf8_lossy(cell).into_owned();
    let mut detected = Detected {
        delimiter: char::from(delimiter),
        decimal_comma,
        titles,
        lines_above: first,
        first_rows: data.iter().take(SHOWN).map(|cells| cells.iter().map(text).collect()).collect(),
        columns: TraceColumns::default(),
        taken_for: Vec::new(),
    };
    let columns = columns(&detected, &data);
    detected.columns = guess(&detected, &columns);
    detected.taken_for = columns.iter().map(taken_for).collect();
    Ok(detected)
}

fn cut(line: &[u8], delimiter: u8) -> Vec<&[u8]> {
    let mut cells = Vec::new();
    split(line, delimiter, &mut cells);
    cells.truncate(MOST_COLUMNS);
    cells
}

fn filled(cells: &[&[u8]]) -> usize {
    cells.iter().filter(|cell| !cell.is_empty()).count()
}

/// Lines that a delimiter cuts into the same number of cells, at least two.
fn alike(lines: &[&[u8]], delimiter: u8) -> usize {
    let widths: Vec<usize> =
        lines.iter().map(|line| cut(line, delimiter).len()).filter(|width| *width > 1).collect();
    let usual = usual(&widths);
    widths.iter().filter(|width| **width == usual).count()
}

fn usual(widths: &[usize]) -> usize {
    let count = |wanted: usize| widths.iter().filter(|width| **width == wanted).count();
    widths.iter().copied().max_by_key(|width| (count(*width), *width)).unwrap_or(0)
}

fn usual_width(rows: &[Vec<&[u8]>]) -> usize {
    usual(&rows.iter().map(Vec::len).collect::<Vec<_>>())
}

fn figure(cell: &[u8], decimal_comma: bool) -> Option<f64> {
    number(cell, decimal_comma).or_else(|| clock_s(cell))
}

/// Whether commas are decimal: more cells hold one comma between digits and no point than a point.
fn has_decimal_comma(rows: &[Vec<&[u8]>]) -> bool {
    let (mut commas, mut points) = (0_usize, 0_usize);
    for cell in
        rows.iter().flatten().filter(|cell| cell.first().is_some_and(|byte| b"-+0123456789".contains(byte)))
    {
        let has = |wanted: u8| cell.split(|byte| *byte == wanted).count() - 1;
        commas += usize::from(has(b',') == 1);
        points += usize::from(has(b',') == 0 && has(b'.') == 1);
    }
    commas > points
}

/// The last lines above the rows that have as many cells: titles, and under them perhaps units.
fn titles(above: &[Vec<&[u8]>], width: usize) -> Vec<String> {
    let mut titles = vec![String::new(); width];
    let fits = |cells: &&Vec<&[u8]>| cells.len() > 1 && cells.len().abs_diff(width) <= 1;
    let lines: Vec<&Vec<&[u8]>> = above.iter().rev().take(2).take_while(fits).collect();
    for cells in lines.into_iter().rev() {
        for (title, cell) in titles.iter_mut().zip(cells) {
            let joined =
                format!("{title} {}", String::from_utf8_lossy(cell).trim_start_matches(['#', '\u{feff}']));
            joined.trim().clone_into(title);
        }
    }
    for (index, title) in titles.iter_mut().enumerate().filter(|(_, title)| title.is_empty()) {
        *title = format!("column {}", index + 1);
    }
    titles
}

/// A column: its title's words and its figures.
struct Column {
    index: usize,
    text: String,
    words: Vec<String>,
    values: Vec<f64>,
    is_clock: bool,
}

impl Column {
    fn has(&self, parts: &[&str]) -> bool {
        parts.iter().any(|part| self.text.contains(part))
    }

    fn word(&self, words: &[&str]) -> bool {
        self.words.iter().any(|word| words.contains(&word.as_str()))
    }

    fn median(&self) -> f64 {
        let mut values = self.values.clone();
        values.sort_by(f64::total_cmp);
        values.get(values.len() / 2).copied().unwrap_or_default()
    }

    fn span(&self) -> (f64, f64) {
        let low = self.values.iter().copied().fold(f64::INFINITY, f64::min);
        (low, self.values.iter().copied().fold(f64::NEG_INFINITY, f64::max))
    }

    fn is_rising(&self) -> bool {
        self.values.len() > 1
            && self.values.windows(2).filter(|pair| pair[1] < pair[0]).count() * 10 < self.values.len()
    }
}

fn columns(detected: &Detected, rows: &[&Vec<&[u8]>]) -> Vec<Column> {
    let column = |(index, title): (usize, &String)| {
        let text = title.to_lowercase();
        let cells = rows.iter().filter_map(|cells| cells.get(index));
        let values: Vec<f64> =
            cells.clone().filter_map(|cell| figure(cell, detected.decimal_comma)).collect();
        let is_clock = cells.clone().any(|cell| clock_s(cell).is_some());
        let words = text.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty());
        Column { index, words: words.map(str::to_owned).collect(), text, values, is_clock }
    };
    detected.titles.iter().enumerate().map(column).collect()
}

fn taken_for(column: &Column) -> TakenFor {
    let scales = [volts(column), amperes(column), charge(column), length(column), speed_scale(column)];
    TakenFor { form: form(column), scales }
}

fn guess(detected: &Detected, columns: &[Column]) -> TraceColumns {
    let full: Vec<&Column> = columns.iter().filter(|column| !column.values.is_empty()).collect();
    let has_titles =
        detected.titles.iter().enumerate().any(|(index, title)| *title != format!("column {}", index + 1));
    if has_titles { by_titles(&full) } else { by_figures(&full) }
}

fn chosen(column: &Column, scale: f64) -> Chosen {
    Chosen { column: column.index, scale }
}

fn by_titles(columns: &[&Column]) -> TraceColumns {
    let is_charge = |c: &Column| {
        c.has(&["mah"])
            || c.word(&["ah"])
            || (c.has(&["consum", "charge", "used"]) && !c.has(&["curr", "amp"]))
    };
    let is_rest =
        |c: &Column| c.has(&["remain", "left", "percent", "%", "state", "energy", "wh", "distance"]);
    let is_time = |c: &Column| {
        c.is_clock
            || c.has(&["time", "elapsed", "timestamp", "clock"])
            || c.word(&["t", "s", "ms", "us", "sec", "seconds"])
    };
    let time = columns
        .iter()
        .filter(|c| is_time(c))
        .max_by_key(|c| (c.is_rising(), c.has(&["time", "elapsed"]), core::cmp::Reverse(c.index)));
    let others = || columns.iter().copied().filter(|c| time.is_none_or(|time| time.index != c.index));
    let used = others().find(|c| is_charge(c) && !is_rest(c));
    let others = || others().filter(|c| used.is_none_or(|used| used.index != c.index));
    let current = others().find(|c| {
        (c.has(&["curr", "amp"]) || c.word(&["a", "ma", "i"])) && !c.has(&["temp", "limit"]) && !is_rest(c)
    });
    let is_voltage = |c: &&Column| {
        (c.has(&["volt", "vbat", "vcc", "vbus"]) || c.word(&["v", "mv", "u"]))
            && !c.has(&["cell", "rx", "rssi", "5v", "limit"])
    };
    // Of several the bus is the highest.
    let voltage = others().filter(is_voltage).max_by(|one, other| one.median().total_cmp(&other.median()));
    let altitude = others().find(|c| c.has(&["alt", "height"]));
    let speed = others().find(|c| c.has(&["speed", "veloc"]) && !c.has(&["rpm", "motor", "wind"]));
    TraceColumns {
        time: time.map(|column| (column.index, form(column))),
        voltage: voltage.map(|c| chosen(c, volts(c))),
        current: current.map(|c| chosen(c, amperes(c))),
        used: used.map(|c| chosen(c, charge(c))),
        altitude: altitude.map(|c| chosen(c, length(c))),
        speed: speed.map(|c| chosen(c, speed_scale(c))),
    }
}

fn form(column: &Column) -> TimeForm {
    if column.is_clock { TimeForm::Clock } else { form_of(&column.words, &column.values) }
}

fn volts(column: &Column) -> f64 {
    milli(column, "mv", 1000.0)
}

fn amperes(column: &Column) -> f64 {
    milli(column, "ma", 3000.0)
}

fn charge(column: &Column) -> f64 {
    if column.word(&["ah"]) { 1000.0 } else { 1.0 }
}

/// Thousandths by the title, or where the figures are too great for anything else.
fn milli(column: &Column, word: &str, too_great: f64) -> f64 {
    if column.word(&[word]) || column.median() > too_great { 0.001 } else { 1.0 }
}

/// International foot, exact.
const FOOT_M: f64 = 0.3048;

fn length(column: &Column) -> f64 {
    if column.word(&["ft", "feet", "foot"]) { FOOT_M } else { 1.0 }
}

fn speed_scale(column: &Column) -> f64 {
    if column.has(&["km/h", "kmh", "kph"]) {
        1.0 / 3.6
    } else if column.word(&["mph"]) {
        // International mile, exact.
        1609.344 / 3600.0
    } else if column.word(&["kt", "kts", "knots", "knot"]) {
        1852.0 / 3600.0
    } else {
        1.0
    }
}

/// Without titles: the time rises from the first row on, the voltage hardly changes and falls, the charge rises from nothing.
fn by_figures(columns: &[&Column]) -> TraceColumns {
    let time = columns.iter().copied().find(|c| c.is_clock || c.is_rising());
    let mut others: Vec<&Column> =
        columns.iter().copied().filter(|c| time.is_none_or(|time| time.index != c.index)).collect();
    let mut take = |fits: &dyn Fn(&Column) -> bool| {
        let place = others.iter().position(|column| fits(column))?;
        Some(others.remove(place))
    };
    let used = take(&|c| c.is_rising() && c.span().1 - c.span().0 > 20.0 && c.span().0 >= 0.0);
    let voltage = take(&|c| {
        let (low, high) = c.span();
        let median = c.median();
        (6.0..=900.0).contains(&median) && high - low < 0.4 * median && low > 0.0
            || (6000.0..900_000.0).contains(&median) && high - low < 0.4 * median
    });
    let current = take(&|c| c.span().1 > 0.5 && c.span().1 < 1000.0);
    TraceColumns {
        time: time.map(|column| (column.index, form(column))),
        voltage: voltage.map(|c| chosen(c, volts(c))),
        current: current.map(|c| chosen(c, 1.0)),
        used: used.map(|c| chosen(c, 1.0)),
        altitude: None,
        speed: None,
    }
}
