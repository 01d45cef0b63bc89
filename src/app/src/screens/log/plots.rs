//! Predicted against used, and how the factor goes on over time.

use leptos::prelude::*;
use liftmargin_document::log::LogRow;
use liftmargin_document::present::DecimalMark;

use crate::parts::{Ink, LimitLine, Panel, Plot, Series, StillPlot};

const DAY_MS: f64 = 86_400_000.0;

/// Both plots; none without a flight that was predicted.
pub fn plots(rows: &[LogRow], decimal_mark: DecimalMark) -> Option<AnyView> {
    let against = against(rows, decimal_mark)?;
    let trend = trend(rows, decimal_mark).map(|plot| view! { <StillPlot plot /> });
    Some(view! { <StillPlot plot=against /> {trend} }.into_any())
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

fn trend(rows: &[LogRow], decimal_mark: DecimalMark) -> Option<Plot> {
    let newest = rows.iter().map(|row| row.lift_off_unix_ms).fold(f64::NEG_INFINITY, f64::max);
    let points: Vec<(f64, f64)> = rows
        .iter()
        .filter(|row| !row.excluded)
        .filter_map(|row| Some(((row.lift_off_unix_ms - newest) / DAY_MS, 100.0 * (row.power_factor? - 1.0))))
        .collect();
    (points.len() > 1).then(|| Plot {
        x_title: "Days before the last flight".to_owned(),
        x_unit: "d".to_owned(),
        x_decimals: 0,
        panels: vec![Panel {
            title: "Power over the model".to_owned(),
            unit: "%".to_owned(),
            decimals: 0,
            series: vec![series("flights", Ink::Dots, sorted(points))],
            limits: vec![LimitLine { value: 0.0, label: "as the model".to_owned() }],
            from_zero: true,
        }],
        marks: Vec::new(),
        summary: "How much power each flight took over the model, by day.".to_owned(),
        decimal_mark,
    })
}
