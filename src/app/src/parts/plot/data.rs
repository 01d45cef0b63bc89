//! What is drawn: numbers in the units that they are shown in, and the words for them.

use liftmargin_document::present::DecimalMark;

/// How a series is drawn; each differs from the others without colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ink {
    /// A full line.
    Line,
    /// A thin line, beside the one to act on.
    Thin,
    /// A dashed line.
    Dashed,
    /// A dotted line.
    Dotted,
    /// Single points.
    Dots,
}

impl Ink {
    /// The class that the style sheet knows.
    pub const fn class(self) -> &'static str {
        match self {
            Self::Line => "ink-line",
            Self::Thin => "ink-thin",
            Self::Dashed => "ink-dashed",
            Self::Dotted => "ink-dotted",
            Self::Dots => "ink-dots",
        }
    }
}

/// A line or a cloud of points, in order of x.
#[derive(Debug, Clone, PartialEq)]
pub struct Series {
    /// Name.
    pub name: String,
    /// How it is drawn.
    pub ink: Ink,
    /// The points.
    pub points: Vec<(f64, f64)>,
}

impl Series {
    /// The value at x, between the points on either side; none outside them.
    pub fn at(&self, x: f64) -> Option<f64> {
        self.points.windows(2).find_map(|pair| match pair {
            [(x0, y0), (x1, y1)] if *x0 <= x && x <= *x1 => {
                let share = if x1 > x0 { (x - x0) / (x1 - x0) } else { 0.0 };
                Some(y0 + share * (y1 - y0))
            }
            _ => None,
        })
    }
}

/// A level line.
#[derive(Debug, Clone, PartialEq)]
pub struct LimitLine {
    /// Its height.
    pub value: f64,
    /// Its label.
    pub label: String,
}

/// A moment through all panels.
#[derive(Debug, Clone, PartialEq)]
pub struct Mark {
    /// Its place.
    pub x: f64,
    /// Its label.
    pub label: String,
}

/// One panel: one quantity.
#[derive(Debug, Clone, PartialEq)]
pub struct Panel {
    /// What is shown.
    pub title: String,
    /// Its unit.
    pub unit: String,
    /// Decimals when a value is read off.
    pub decimals: usize,
    /// What is drawn.
    pub series: Vec<Series>,
    /// Level lines.
    pub limits: Vec<LimitLine>,
    /// Whether zero belongs to the axis.
    pub from_zero: bool,
}

/// Panels over one axis.
#[derive(Debug, Clone, PartialEq)]
pub struct Plot {
    /// The common axis.
    pub x_title: String,
    /// Its unit.
    pub x_unit: String,
    /// Decimals when a place is read off.
    pub x_decimals: usize,
    /// The panels, from the top.
    pub panels: Vec<Panel>,
    /// Moments.
    pub marks: Vec<Mark>,
    /// The plot in one or two sentences, for those who cannot see it.
    pub summary: String,
    /// How decimals are shown.
    pub decimal_mark: DecimalMark,
}

impl Plot {
    /// Least and greatest x of all points.
    pub fn x_ends(&self) -> (f64, f64) {
        let points = self.panels.iter().flat_map(|panel| &panel.series).flat_map(|series| &series.points);
        ends(points.map(|point| point.0))
    }
}

impl Panel {
    /// Least and greatest y of all points and limits, with zero if it belongs to the axis.
    pub fn y_ends(&self) -> (f64, f64) {
        let points = self.series.iter().flat_map(|series| &series.points).map(|point| point.1);
        let limits = self.limits.iter().map(|limit| limit.value);
        ends(points.chain(limits).chain(self.from_zero.then_some(0.0)))
    }
}

fn ends(values: impl Iterator<Item = f64>) -> (f64, f64) {
    values
        .filter(|value| value.is_finite())
        .fold(None, |ends: Option<(f64, f64)>, value| {
            Some(ends.map_or((value, value), |(low, high)| (low.min(value), high.max(value))))
        })
        .unwrap_or((0.0, 1.0))
}
