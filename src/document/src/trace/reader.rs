//! Pieces of text into rows.

use super::cells::{number, split};
use super::clock::{TimeForm, over_midnight};
use super::detect::{Chosen, Detected, TraceColumns, detect};
use super::notes::{TraceFault, TraceNote};
use super::settle::Settling;
use super::signs::Signs;
use super::{Trace, TraceRow};

/// So much is looked at before the first row is read.
const HEAD_BYTES: usize = 65_536;
const BYTE_ORDER_MARK: &[u8] = b"\xEF\xBB\xBF";
/// Greater figures, and seconds, are no recording.
const GREATEST: f64 = 1e12;
/// Ten hours at a hundred rows a second.
const MOST_ROWS: usize = 3_600_000;

/// Reads a recording piece by piece.
#[derive(Debug)]
pub struct TraceReader {
    chosen: Option<TraceColumns>,
    /// What no line end was found for yet.
    rest: Vec<u8>,
    form: Option<Form>,
    fault: Option<TraceFault>,
    rows: Vec<TraceRow>,
    line: usize,
    days: f64,
    last_s: Option<f64>,
    has_fallen: bool,
    signs: Signs,
    told: Told,
}

/// What is known once the head was looked at.
#[derive(Debug)]
struct Form {
    detected: Detected,
    line_end: u8,
    time: (usize, TimeForm),
    figures: [Option<Chosen>; 5],
}

#[derive(Debug, Default)]
struct Told {
    titles: usize,
    unreadable: usize,
    first_unreadable: usize,
    incomplete: usize,
    left_out: usize,
}

impl TraceReader {
    /// With columns as chosen by hand, or found in the first lines.
    pub fn new(columns: Option<TraceColumns>) -> Self {
        Self {
            chosen: columns,
            rest: Vec::new(),
            form: None,
            fault: None,
            rows: Vec::new(),
            line: 0,
            days: 0.0,
            last_s: None,
            has_fallen: false,
            signs: Signs::default(),
            told: Told::default(),
        }
    }

    /// Rows read so far.
    pub fn rows(&self) -> usize {
        self.rows.len()
    }

    /// The next piece, of any size.
    pub fn push(&mut self, piece: &[u8]) {
        if self.fault.is_some() {
            return;
        }
        if self.form.is_none() {
            self.rest.extend_from_slice(piece);
            if self.rest.len() >= HEAD_BYTES {
                self.begin();
            }
            return;
        }
        // The line that the piece before broke off.
        let line_end = self.form.as_ref().map_or(b'\n', |form| form.line_end);
        match piece.iter().position(|byte| *byte == line_end) {
            Some(end) if !self.rest.is_empty() => {
                let mut line = core::mem::take(&mut self.rest);
                line.extend_from_slice(piece.get(..end).unwrap_or_default());
                self.take_line(&line);
                self.take_lines(piece.get(end + 1..).unwrap_or_default());
            }
            Some(_) => self.take_lines(piece),
            None => self.rest.extend_from_slice(piece),
        }
    }

    /// What the first lines say, once enough of them is there.
    pub fn detected(&self) -> Option<&Detected> {
        self.form.as_ref().map(|form| &form.detected)
    }

    /// Looks at the head, then reads on.
    fn begin(&mut self) {
        let rest = core::mem::take(&mut self.rest);
        let head = rest.strip_prefix(BYTE_ORDER_MARK).unwrap_or(&rest);
        match form_of(head, self.chosen) {
            Ok(form) => {
                self.form = Some(form);
                self.take_lines(head);
            }
            Err(fault) => self.fault = Some(fault),
        }
    }

    fn take_lines(&mut self, text: &[u8]) {
        let line_end = self.form.as_ref().map_or(b'\n', |form| form.line_end);
        let mut from = 0;
        while let Some(length) =
            text.get(from..).and_then(|left| left.iter().position(|byte| *byte == line_end))
        {
            self.take_line(text.get(from..from + length).unwrap_or_default());
            from += length + 1;
        }
        self.rest.extend_from_slice(text.get(from..).unwrap_or_default());
    }

    fn take_line(&mut self, line: &[u8]) {
        self.line += 1;
        let line = line.trim_ascii();
        let Some(form) = &self.form else { return };
        if line.is_empty() || self.line <= form.detected.lines_above {
            return;
        }
        let mut cells: Vec<&[u8]> = Vec::with_capacity(form.detected.titles.len());
        split(line, form.detected.delimiter as u8, &mut cells);
        let decimal_comma = form.detected.decimal_comma;
        let time = cells.get(form.time.0).and_then(|cell| form.time.1.seconds(cell, decimal_comma));
        let Some(time_s) = time.filter(|time_s| time_s.abs() < GREATEST) else {
            if is_title(&form.detected, &cells) {
                self.told.titles += 1;
            } else {
                self.told.unreadable += 1;
                if self.told.first_unreadable == 0 {
                    self.told.first_unreadable = self.line;
                }
            }
            return;
        };
        if self.rows.len() == MOST_ROWS {
            self.told.left_out += 1;
            return;
        }
        let mut values = [f64::NAN; 5];
        let mut is_whole = true;
        for (value, chosen) in values.iter_mut().zip(&form.figures) {
            if let Some(chosen) = chosen {
                match cells.get(chosen.column).and_then(|cell| number(cell, decimal_comma)) {
                    Some(figure) if (figure * chosen.scale).abs() < GREATEST => {
                        *value = figure * chosen.scale;
                    }
                    _ => is_whole = false,
                }
            }
        }
        self.told.incomplete += usize::from(!is_whole);
        let time_s = if form.time.1 == TimeForm::Clock {
            over_midnight(&mut self.days, self.last_s, time_s)
        } else {
            time_s
        };
        self.has_fallen |= self.last_s.is_some_and(|last_s| time_s < last_s);
        self.last_s = Some(time_s);
        let [voltage_v, current_a, used_mah, altitude_m, speed_m_s] = values;
        let row = TraceRow { time_s, voltage_v, current_a, used_mah, altitude_m, speed_m_s };
        self.signs.look(&row);
        self.rows.push(row);
    }

    /// The end: totals, what is to be told, and points to draw.
    ///
    /// # Errors
    /// Why it is no recording.
    pub fn finish(self) -> Result<Trace, TraceFault> {
        self.settle().map(Settling::done)
    }

    /// The end, to be taken in steps.
    ///
    /// # Errors
    /// Why it is no recording.
    pub fn settle(mut self) -> Result<Settling, TraceFault> {
        if self.form.is_none() && self.fault.is_none() {
            self.begin();
        }
        if let Some(fault) = self.fault {
            return Err(fault);
        }
        let last = core::mem::take(&mut self.rest);
        if !last.is_empty() {
            self.take_line(&last);
        }
        let Some(form) = self.form else { return Err(TraceFault::NoRows) };
        if self.rows.is_empty() {
            let column = form.detected.titles.get(form.time.0).cloned().unwrap_or_default();
            return Err(TraceFault::NoRowWithTime { column });
        }
        let notes = self.told.notes();
        Ok(Settling::new(form.detected, self.rows, notes, !self.has_fallen, self.signs))
    }
}

impl Told {
    fn notes(&self) -> Vec<TraceNote> {
        let mut notes = Vec::new();
        if self.titles > 0 {
            notes.push(TraceNote::RepeatedTitles { times: self.titles });
        }
        if self.unreadable > 0 {
            notes.push(TraceNote::Unreadable { rows: self.unreadable, first_line: self.first_unreadable });
        }
        if self.incomplete > 0 {
            notes.push(TraceNote::Incomplete { rows: self.incomplete });
        }
        if self.left_out > 0 {
            notes.push(TraceNote::TooLong { rows: self.left_out });
        }
        notes
    }
}

/// What the first lines of a file say, be it enough to read it or not: for a person to choose the columns by.
///
/// # Errors
/// Where there is no text, or no rows.
pub fn look_at(file: &[u8]) -> Result<Detected, TraceFault> {
    let head = file.get(..HEAD_BYTES).unwrap_or(file);
    Ok(look(head.strip_prefix(BYTE_ORDER_MARK).unwrap_or(head), file.len() > head.len())?.0)
}

/// What the head says, and how its lines end.
fn look(head: &[u8], breaks_off: bool) -> Result<(Detected, u8), TraceFault> {
    if head.contains(&0) {
        return Err(TraceFault::NotText);
    }
    // Old files end their lines by a carriage return alone.
    let line_end = if head.contains(&b'\n') { b'\n' } else { b'\r' };
    let mut lines: Vec<&[u8]> = head.split(|byte| *byte == line_end).map(<[u8]>::trim_ascii).collect();
    if breaks_off {
        lines.pop();
    }
    Ok((detect(&lines)?, line_end))
}

fn form_of(head: &[u8], chosen: Option<TraceColumns>) -> Result<Form, TraceFault> {
    let (mut detected, line_end) = look(head, head.len() >= HEAD_BYTES)?;
    detected.columns = chosen.unwrap_or(detected.columns);
    detected.columns.check(detected.titles.len())?;
    let time = detected.columns.time.ok_or(TraceFault::NoTime)?;
    let figures = detected.columns.figures().map(|(_, chosen)| chosen);
    Ok(Form { detected, line_end, time, figures })
}

/// Whether a line is the titles again: a cell that has no digits and stands in its column's title.
fn is_title(detected: &Detected, cells: &[&[u8]]) -> bool {
    cells.iter().zip(&detected.titles).any(|(cell, title)| {
        let text = String::from_utf8_lossy(cell);
        let text = text.trim_start_matches(['#', '\u{feff}']).trim();
        text.chars().any(char::is_alphabetic) && title.contains(text)
    })
}
