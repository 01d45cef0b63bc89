//! Predicted against used, and how the factor goes on over time.

use leptos::prelude::*;
use liftmargin_document::log::LogRow;
use liftmargin_document::present::DecimalMark;

use crate::parts::{Ink, LimitLine, Panel, Plot, Series, StillPlot};

const DAY_MS: f64 = 86_400_000.0;

/// The plots; none without a flight that was predicted.
pub fn plots(rows: &[LogRow], decimal_mark: DecimalMark) -> Option<AnyView> {
    let against = against(rows, decimal_mark)?;
    let trends: Vec<AnyView> = [&POWER, &REST]
        .into_iter()
        .filter_map(|over| Some(view! { <StillPlot plot=trend(rows, over, decimal_mark)? /> }.into_any()))
        .collect();
    Some(view! { <StillPlot plot=against /> {trends} }.into_any())
}

fn sorted(mut points: Vec<(f64, f64)>) -> Vec<(f64, f64)> {
    points.sort_by(|one, other| one.0.total_cmp(&other.0));
    points
}

fn series(name: &str, ink: Ink, points: Vec<(f64, f64)>) -> Series {
    Series { name: name.to_owned(), ink, points }
}

fn against(rows: &[LogRow], decimal_mark: DecimalMark) -> Option<Plot> {
    let counted: Vec<(f64, f64, [f64; 2])> = rows
        .iter()
        .filter(|row| !row.excluded)
        .filter_map(|row| Some((row.predicted_mah?, row.used_mah?, row.band_mah?)))
        .collect();
    let most = counted.iter().map(|(predicted, used, _)| predicted.max(*used)).fold(0.0, f64::max);
    if counted.is_empty() {
        return None;
    }
    // The band of each flight is its own; the lines are drawn by their mean.
    let mean = |end: usize| {
        counted.iter().map(|(predicted, _, band)| band[end] / predicted).sum::<f64>() / counted.len() as f64
    };
    let line = |slope: f64| vec![(0.0, 0.0), (most, slope * most)];
    let dots = counted.iter().map(|(predicted, used, _)| (*predicted, *used)).collect();
    Some(Plot {
        x_title: "Predicted".to_owned(),
        x_unit: "mAh".to_owned(),
        x_decimals: 0,
        panels: vec![Panel {
            title: "Used".to_owned(),
            unit: "mAh".to_owned(),
            decimals: 0,
            series: vec![
                series("flights", Ink::Dots, sorted(dots)),
                series("as predicted", Ink::Line, line(1.0)),
                series("four in five", Ink::Dashed, line(mean(0))),
                series("", Ink::Dashed, line(mean(1))),
            ],
            limits: Vec::new(),
            from_zero: true,
        }],
        marks: Vec::new(),
        summary: format!(
            "Used against predicted of {} flights, with the line of equality and the band of four in five.",
            counted.len()
        ),
        decimal_mark,
    })
}

/// One figure of each flight over the days.
struct Over {
    title: &'static str,
    unit: &'static str,
    zero: &'static str,
    summary: &'static str,
    figure: fn(&LogRow) -> Option<f64>,
}

const POWER: Over = Over {
    title: "Power over the model",
    unit: "%",
    zero: "as the model",
    summary: "How much power each flight took over the model, by day.",
    figure: |row| row.power_factor.map(|factor| 100.0 * (factor - 1.0)),
};
const REST: Over = Over {
    title: "Rest voltage after, over the model: sinking where packs tire",
    unit: "mV a cell",
    zero: "as the model",
    summary: "How much the rest voltage of a cell after each flight stood over the model's, by day.",
    figure: |row| row.rest_over_model_mv,
};

fn trend(rows: &[LogRow], over: &Over, decimal_mark: DecimalMark) -> Option<Plot> {
    let newest = rows.iter().map(|row| row.lift_off_unix_ms).fold(f64::NEG_INFINITY, f64::max);
    let points: Vec<(f64, f64)> = rows
        .iter()
        .filter(|row| !row.excluded)
        .filter_map(|row| Some(((row.lift_off_unix_ms - newest) / DAY_MS, (over.figure)(row)?)))
        .collect();
    (points.len() > 1).then(|| Plot {
        x_title: "Days before the last flight".to_owned(),
        x_unit: "d".to_owned(),
        x_decimals: 0,
        panels: vec![Panel {
            title: over.title.to_owned(),
            unit: over.unit.to_owned(),
            decimals: 0,
            series: vec![series("flights", Ink::Dots, sorted(points))],
            limits: vec![LimitLine { value: 0.0, label: over.zero.to_owned() }],
            from_zero: true,
        }],
        marks: Vec::new(),
        summary: over.summary.to_owned(),
        decimal_mark,
    })
}
