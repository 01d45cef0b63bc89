//! One panel: frame, ticks, limits, series.

use liftmargin_document::present::DecimalMark;
use liftmargin_document::present::number::write;
use liftmargin_document::present::ticks::Axis;

use super::super::svg::{Anchor, At, Svg};
use super::data::{Ink, LimitLine, Panel, Series};
use super::frame::{KEY, LEFT, RIGHT, panel_top, x_place, y_axis, y_place};

/// Mean width of a letter of the key.
const LETTER: f64 = 6.2;

/// Draws a panel at its place in the drawing.
pub fn draw_panel(svg: &mut Svg, panel: &Panel, index: usize, x: &Axis, mark: DecimalMark) {
    let y = y_axis(panel);
    svg.group("plot-panel", (0.0, panel_top(index)), &[]);
    let unit = if panel.unit.is_empty() { String::new() } else { format!(", {}", panel.unit) };
    let title = format!("{}{unit}", panel.title);
    let baseline = if panel.series.len() > 1 { -7.0 - KEY } else { -7.0 };
    svg.text("plot-title", (At::Unit(LEFT), At::Unit(baseline)), Anchor::Start, &title);
    for tick in &y.ticks {
        let at = y_place(&y, *tick);
        svg.line("plot-grid", (At::Unit(LEFT), At::Unit(at)), (At::Unit(RIGHT), At::Unit(at)));
        let words = write(*tick, y.decimals, mark);
        svg.text("plot-tick", (At::Unit(LEFT - 6.0), At::Unit(at + 4.0)), Anchor::End, &words);
    }
    for (order, series) in panel.series.iter().enumerate() {
        draw_series(svg, series, order, x, &y);
    }
    if panel.series.len() > 1 {
        draw_key(svg, &panel.series);
    }
    for limit in &panel.limits {
        draw_limit(svg, limit, &y);
    }
    svg.end_group();
}

fn draw_limit(svg: &mut Svg, limit: &LimitLine, axis: &Axis) {
    let y = y_place(axis, limit.value);
    // Above the line, unless that would leave the panel.
    let baseline = if y < 16.0 { y + 13.0 } else { y - 4.0 };
    svg.line("plot-limit", (At::Unit(LEFT), At::Unit(y)), (At::Unit(RIGHT), At::Unit(y)));
    let at = (At::Unit(LEFT + 4.0), At::Unit(baseline));
    svg.text("plot-limit-label", at, Anchor::Start, &limit.label);
}

fn class(series: &Series, order: usize) -> String {
    format!("{} series-{}", series.ink.class(), order + 1)
}

fn draw_series(svg: &mut Svg, series: &Series, order: usize, x: &Axis, y: &Axis) {
    let class = class(series, order);
    let places = series.points.iter().map(|(px, py)| (x_place(x, *px), y_place(y, *py)));
    if series.ink == Ink::Dots {
        places.for_each(|place| svg.circle(&class, place, 3.2));
    } else {
        svg.polyline(&class, places);
    }
}

/// Names of several series, between the title and the panel.
fn draw_key(svg: &mut Svg, series: &[Series]) {
    let mut left = LEFT;
    for (order, series) in series.iter().enumerate() {
        let class = class(series, order);
        let level = -10.0;
        if series.ink == Ink::Dots {
            svg.circle(&class, (left + 12.0, level), 3.2);
        } else {
            svg.line(&class, (At::Unit(left), At::Unit(level)), (At::Unit(left + 24.0), At::Unit(level)));
        }
        svg.text("plot-key", (At::Unit(left + 28.0), At::Unit(level + 4.0)), Anchor::Start, &series.name);
        left += 28.0 + LETTER * series.name.chars().count() as f64 + 14.0;
    }
}
