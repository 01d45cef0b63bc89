//! Checks against values from outside, each computed anew: the rows of `cargo xtask verify` and of the README's table.

mod air_and_rotor;
mod packs_and_frames;
mod units;

use std::fmt::Write as _;

/// Whether a check says something beyond what it was made from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// The same formula or problem, solved by someone else.
    Exact,
    /// Constants were chosen with these values in sight.
    InSample,
    /// These values made no constant.
    HeldOut,
}

impl Standing {
    const fn name(self) -> &'static str {
        match self {
            Self::Exact => "same law",
            Self::InSample => "in-sample",
            Self::HeldOut => "held out",
        }
    }
}

/// One published or measured value and ours.
#[derive(Debug, Clone, Copy)]
pub struct Pair {
    pub theirs: f64,
    pub ours: f64,
}

impl Pair {
    fn difference(self) -> f64 {
        if self.theirs == 0.0 { self.ours } else { self.ours / self.theirs - 1.0 }
    }
}

/// One quantity against one source.
#[derive(Debug)]
pub struct Line {
    pub what: &'static str,
    pub quantity: &'static str,
    pub source: &'static str,
    pub sample: Standing,
    /// Greatest relative difference of any row (absolute where theirs is zero).
    pub tolerance: f64,
    pub pairs: Vec<Pair>,
}

impl Line {
    /// The row that differs most.
    fn worst(&self) -> Pair {
        let by = |a: &&Pair, b: &&Pair| a.difference().abs().total_cmp(&b.difference().abs());
        *self.pairs.iter().max_by(by).expect("a line has rows")
    }

    fn mean(&self) -> f64 {
        self.pairs.iter().map(|pair| pair.difference()).sum::<f64>() / self.pairs.len() as f64
    }

    /// Whether every row is a number inside the tolerance.
    pub fn holds(&self) -> bool {
        self.pairs.iter().all(|pair| pair.difference().abs() <= self.tolerance)
    }

    fn cells(&self) -> [String; 9] {
        let worst = self.worst();
        [
            self.what.to_owned(),
            self.quantity.to_owned(),
            self.source.to_owned(),
            self.pairs.len().to_string(),
            figure(worst.theirs),
            figure(worst.ours),
            format!("{} ({} mean)", share(worst.difference()), share(self.mean())),
            share(self.tolerance).trim_start_matches('+').to_owned(),
            self.sample.name().to_owned(),
        ]
    }
}

const HEADS: [&str; 9] =
    ["what", "quantity", "source", "rows", "theirs, worst row", "ours", "difference", "allowed", "sample"];

/// Every check, computed now.
pub fn lines() -> Vec<Line> {
    let mut all = air_and_rotor::lines();
    all.extend(units::lines());
    all.extend(packs_and_frames::lines());
    all
}

/// As a table in Markdown.
pub fn markdown(lines: &[Line]) -> String {
    let mut text = format!("| {} |\n|{}\n", HEADS.join(" | "), " --- |".repeat(HEADS.len()));
    for line in lines {
        let _ = writeln!(text, "| {} |", line.cells().join(" | "));
    }
    text
}

const BEGIN: &str = "<!-- made by cargo xtask verify --readme: begin -->\n";
const END: &str = "<!-- made by cargo xtask verify --readme: end -->\n";

/// The README with this table between its marks; none where it has no marks.
pub fn put_into(readme: &str, table: &str) -> Option<String> {
    let (before, rest) = readme.split_once(BEGIN)?;
    let (_, after) = rest.split_once(END)?;
    Some(format!("{before}{BEGIN}\n{table}\n{END}{after}"))
}

/// Four digits.
fn figure(value: f64) -> String {
    let digits = if value == 0.0 { 0 } else { (3 - value.abs().log10().floor() as i32).clamp(0, 6) };
    format!("{value:.*}", digits as usize)
}

/// In percent; what is below a thousandth of one in powers of ten, so that the last digit of a machine does not show.
fn share(value: f64) -> String {
    let percent = 100.0 * value;
    match percent.abs() {
        small if small < 1e-3 => "< 0.001 %".to_owned(),
        small if small < 0.1 => format!("{percent:+.3} %"),
        _ => format!("{percent:+.1} %"),
    }
}
