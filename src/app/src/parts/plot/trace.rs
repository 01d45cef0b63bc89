//! A course over time, with a slider below it that reads the values at any moment.

use leptos::prelude::*;
use liftmargin_document::measure::DecimalMark;
use liftmargin_document::measure::number::write;
use liftmargin_document::measure::ticks::Axis;

use super::data::{Mark, Panel, Plot, Series};
use super::frame::{BOTTOM, LEFT, RIGHT, TOP, WIDTH, panels_end, x_axis, x_place};
use super::panel::panel_view;

/// Steps of the slider.
const STEPS: f64 = 200.0;

/// The plot with its slider.
#[component]
pub fn TracePlot(
    /// What is drawn.
    #[prop(into)]
    plot: Signal<Plot>,
) -> impl IntoView {
    let step = RwSignal::new(None::<f64>);
    let moment = move || step.get().map(|step| plot.with(x_axis).value(step / STEPS));
    let reading = move || match moment() {
        None => "Slide to read the values at a moment.".to_owned(),
        Some(x) => plot.with(|plot| reading(plot, x)),
    };
    view! {
        <figure class="plot">
            <Drawing plot moment=Signal::derive(moment) />
            <input class="scrub" type="range" min="0" max=STEPS step="1" aria-label="Moment"
                prop:value=move || step.get().unwrap_or(0.0) aria-valuetext=reading
                on:input:target=move |ev| step.set(ev.target().value().parse().ok()) />
            <output class="plot-reading">{reading}</output>
        </figure>
    }
}

/// All values at x in one line.
fn reading(plot: &Plot, x: f64) -> String {
    let place = format!("{} {} {}", plot.x_title, write(x, plot.x_decimals, plot.decimal_mark), plot.x_unit);
    let read = |panel: &Panel| {
        let value = |series: &Series| {
            let value = write(series.at(x)?, panel.decimals, plot.decimal_mark);
            Some(format!("{} {value}\u{a0}{}", series.name, panel.unit))
        };
        panel.series.iter().filter_map(value).collect::<Vec<_>>()
    };
    let values = plot.panels.iter().flat_map(read);
    std::iter::once(place).chain(values).collect::<Vec<_>>().join(" · ")
}

/// The drawing alone, with a line at the moment that is read.
#[component]
pub fn Drawing(
    /// What is drawn.
    plot: Signal<Plot>,
    /// Where the values are read.
    moment: Signal<Option<f64>>,
) -> impl IntoView {
    let cursor = move || {
        let (x, end) = plot
            .with(|plot| (moment.get().map(|x| x_place(&x_axis(plot), x)), panels_end(plot.panels.len())));
        x.map(|x| {
            let x = format!("{x:.1}");
            view! { <line class="plot-cursor" x1=x.clone() x2=x y1=TOP y2=end /> }
        })
    };
    let still = move || {
        let plot = plot.get();
        let x = x_axis(&plot);
        let end = panels_end(plot.panels.len());
        let mark = plot.decimal_mark;
        let marks = plot
            .marks
            .iter()
            .enumerate()
            .map(|(order, mark)| moment_line(mark, order, &x, end))
            .collect_view();
        let ticks = x.ticks.iter().map(|tick| x_tick(&x, *tick, end, mark)).collect_view();
        let panels = plot.panels.iter().enumerate();
        let panels = panels.map(|(index, panel)| panel_view(panel, index, &x, mark)).collect_view();
        view! {
            {panels}
            {ticks}
            <text class="plot-title" x=RIGHT y=end + 34.0 text-anchor="end">
                {format!("{}, {}", plot.x_title, plot.x_unit)}
            </text>
            {marks}
        }
    };
    let view_box =
        move || plot.with(|plot| format!("0 0 {WIDTH} {:.0}", panels_end(plot.panels.len()) + BOTTOM));
    view! {
        <svg class="plot-drawing" viewBox=view_box role="img" aria-label=move || plot.with(|plot| plot.summary.clone())>
            {still}
            {cursor}
        </svg>
    }
}

fn x_tick(axis: &Axis, tick: f64, end: f64, mark: DecimalMark) -> impl IntoView + use<> {
    let x = format!("{:.1}", x_place(axis, tick));
    view! {
        <line class="plot-axis" x1=x.clone() x2=x.clone() y1=end y2=end + 5.0 />
        <text class="plot-tick" x=x y=end + 18.0 text-anchor="middle">{write(tick, axis.decimals, mark)}</text>
    }
}

fn moment_line(mark: &Mark, order: usize, axis: &Axis, end: f64) -> impl IntoView + use<> {
    let place = x_place(axis, mark.x);
    let anchor = if place > f64::midpoint(LEFT, RIGHT) { "end" } else { "start" };
    // Neighbours stand on two lines.
    let baseline = if order.is_multiple_of(2) { 10.0 } else { 22.0 };
    let x = format!("{place:.1}");
    view! {
        <line class="plot-mark" x1=x.clone() x2=x.clone() y1=baseline + 2.0 y2=end />
        <text class="plot-mark-label" x=x y=baseline text-anchor=anchor>{mark.label.clone()}</text>
    }
}
