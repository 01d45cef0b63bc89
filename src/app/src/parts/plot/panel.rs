//! One panel: frame, ticks, limits, series.

use leptos::prelude::*;
use liftmargin_document::measure::DecimalMark;
use liftmargin_document::measure::number::write;
use liftmargin_document::measure::ticks::Axis;

use super::data::{Ink, LimitLine, Panel, Series};
use super::frame::{LEFT, PANEL, RIGHT, panel_top, x_place, y_axis, y_place};

/// A panel at its place in the drawing.
pub fn panel_view(panel: &Panel, index: usize, x: &Axis, mark: DecimalMark) -> impl IntoView + use<> {
    let y = y_axis(panel);
    let ticks = y.ticks.iter().map(|tick| y_tick(&y, *tick, mark)).collect_view();
    let limits = panel.limits.iter().map(|limit| limit_line(&y, limit)).collect_view();
    let several = panel.series.len() > 1;
    let series = panel.series.iter().enumerate().map(|(order, one)| drawn(one, order, x, &y)).collect_view();
    let unit = if panel.unit.is_empty() { String::new() } else { format!(", {}", panel.unit) };
    view! {
        <g transform=format!("translate(0 {:.1})", panel_top(index))>
            <text class="plot-title" x=LEFT y="-7">{format!("{}{unit}", panel.title)}</text>
            {several.then(|| key_row(&panel.series))}
            {ticks}
            {series}
            {limits}
        </g>
    }
}

fn y_tick(axis: &Axis, tick: f64, mark: DecimalMark) -> impl IntoView + use<> {
    let y = y_place(axis, tick);
    view! {
        <line class="plot-grid" x1=LEFT x2=RIGHT y1=format!("{y:.1}") y2=format!("{y:.1}") />
        <text class="plot-tick" x=LEFT - 6.0 y=format!("{:.1}", y + 4.0) text-anchor="end">
            {write(tick, axis.decimals, mark)}
        </text>
    }
}

fn limit_line(axis: &Axis, limit: &LimitLine) -> impl IntoView + use<> {
    let y = y_place(axis, limit.value);
    // Above the line, unless that would leave the panel.
    let baseline = if y < 16.0 { y + 13.0 } else { y - 4.0 };
    view! {
        <line class="plot-limit" x1=LEFT x2=RIGHT y1=format!("{y:.1}") y2=format!("{y:.1}") />
        <text class="plot-limit-label" x=LEFT + 4.0 y=format!("{baseline:.1}")>{limit.label.clone()}</text>
    }
}

fn drawn(series: &Series, order: usize, x: &Axis, y: &Axis) -> AnyView {
    let class = format!("{} series-{}", series.ink.class(), order + 1);
    let places = series.points.iter().map(|(px, py)| (x_place(x, *px), y_place(y, *py)));
    if series.ink == Ink::Dots {
        let dot = |(cx, cy): (f64, f64)| {
            view! { <circle class=class.clone() cx=format!("{cx:.1}") cy=format!("{cy:.1}") r="3.2" /> }
        };
        places.map(dot).collect_view().into_any()
    } else {
        let points: Vec<String> = places.map(|(px, py)| format!("{px:.1},{py:.1}")).collect();
        view! { <polyline class=class points=points.join(" ") /> }.into_any()
    }
}

/// Names of several series, under the panel's upper edge, from the right.
fn key_row(series: &[Series]) -> impl IntoView + use<> {
    let entry = |(order, series): (usize, &Series)| {
        let class = format!("{} series-{}", series.ink.class(), order + 1);
        let y = PANEL - 8.0 - 14.0 * order as f64;
        let sample = if series.ink == Ink::Dots {
            view! { <circle class=class cx=RIGHT - 14.0 cy=y - 4.0 r="3.2" /> }.into_any()
        } else {
            view! { <line class=class x1=RIGHT - 26.0 x2=RIGHT - 4.0 y1=y - 4.0 y2=y - 4.0 /> }.into_any()
        };
        view! {
            {sample}
            <text class="plot-key" x=RIGHT - 32.0 y=y text-anchor="end">{series.name.clone()}</text>
        }
    };
    series.iter().enumerate().map(entry).collect_view()
}
