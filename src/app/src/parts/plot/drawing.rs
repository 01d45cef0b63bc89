//! The whole drawing of a plot, without the line at the moment that is read.

use liftmargin_document::present::number::write;
use liftmargin_document::present::ticks::Axis;

use super::super::svg::{Anchor, At, Svg};
use super::data::{Mark, Plot};
use super::frame::{BOTTOM, LEFT, RIGHT, TOP, WIDTH, panels_end, x_axis, x_place};
use super::panel::draw_panel;

/// The drawing as the content of an `svg` element.
pub fn drawing(plot: &Plot) -> String {
    let x = x_axis(plot);
    let end = panels_end(plot.panels.len());
    let mut svg = Svg::default();
    for (index, panel) in plot.panels.iter().enumerate() {
        draw_panel(&mut svg, panel, index, &x, plot.decimal_mark);
    }
    for tick in &x.ticks {
        let at = At::Unit(x_place(&x, *tick));
        svg.line("plot-axis", (at, At::Unit(end)), (at, At::Unit(end + 5.0)));
        let words = write(*tick, x.decimals, plot.decimal_mark);
        // The last one must not leave the drawing.
        let (at, anchor) = if x_place(&x, *tick) > RIGHT - 8.0 {
            (At::Unit(WIDTH - 1.0), Anchor::End)
        } else {
            (at, Anchor::Middle)
        };
        svg.text("plot-tick", (at, At::Unit(end + 18.0)), anchor, &words);
    }
    let title = format!("{}, {}", plot.x_title, plot.x_unit);
    svg.text("plot-title", (At::Unit(RIGHT), At::Unit(end + 34.0)), Anchor::End, &title);
    for (order, mark) in plot.marks.iter().enumerate() {
        draw_mark(&mut svg, mark, order, &x, end);
    }
    svg.into_text()
}

/// The line at the moment that is read.
pub fn cursor(plot: &Plot, x: f64) -> String {
    let at = At::Unit(x_place(&x_axis(plot), x));
    let mut svg = Svg::default();
    svg.line("plot-cursor", (at, At::Unit(TOP)), (at, At::Unit(panels_end(plot.panels.len()))));
    svg.into_text()
}

/// The line at what is being tried, with its word; it stands at the end of the axis where that is beyond.
pub fn tried_line(plot: &Plot, x: f64, label: &str) -> String {
    let axis = x_axis(plot);
    let (low, high) = plot.x_ends();
    let at = At::Unit(x_place(&axis, x.clamp(low, high)));
    let mut svg = Svg::default();
    svg.line("plot-cursor", (at, At::Unit(24.0)), (at, At::Unit(panels_end(plot.panels.len()))));
    let anchor = if axis.place(x) > 0.5 { Anchor::End } else { Anchor::Start };
    svg.text("plot-mark-label", (at, At::Unit(22.0)), anchor, label);
    svg.into_text()
}

/// The drawing's own coordinates.
pub fn view_box(plot: &Plot) -> String {
    format!("0 0 {WIDTH} {:.0}", panels_end(plot.panels.len()) + BOTTOM)
}

fn draw_mark(svg: &mut Svg, mark: &Mark, order: usize, axis: &Axis, end: f64) {
    let place = x_place(axis, mark.x);
    let anchor = if place > f64::midpoint(LEFT, RIGHT) { Anchor::End } else { Anchor::Start };
    // Neighbours stand on two lines.
    let baseline = if order.is_multiple_of(2) { 10.0 } else { 22.0 };
    let at = At::Unit(place);
    svg.line("plot-mark", (at, At::Unit(baseline + 2.0)), (at, At::Unit(end)));
    svg.text("plot-mark-label", (at, At::Unit(baseline)), anchor, &mark.label);
}
