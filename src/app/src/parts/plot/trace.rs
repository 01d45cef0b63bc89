//! A plot, and for a course over time a slider below it that reads the values at any moment.

use std::sync::Arc;

use leptos::prelude::*;
use liftmargin_document::present::number::write;

use super::data::{Panel, Plot, Series};
use super::drawing::{cursor, drawing, tried_line, view_box};
use super::frame::x_axis;
use super::table::table_of;
use crate::live::{Text, text, typed};

/// Steps of the slider.
const STEPS: u32 = 200;

/// A plot without a slider.
#[component]
pub fn StillPlot(
    /// What is drawn.
    plot: Plot,
) -> impl IntoView {
    view! {
        <figure class="plot">
            <svg class="plot-drawing" viewBox=view_box(&plot) role="img" aria-label=plot.summary.clone()
                inner_html=drawing(&plot) />
        </figure>
    }
}

/// The drawing, and over it a line that moves.
fn with_line(plot: &Plot, line: Text) -> AnyView {
    view! {
        <svg class="plot-drawing" viewBox=view_box(plot) role="img" aria-label=plot.summary.clone()>
            <g inner_html=drawing(plot) />
            <g inner_html=line />
        </svg>
    }
    .into_any()
}

/// A plot with a line at what is being tried.
#[component]
pub fn TriedPlot(
    /// What is drawn.
    plot: Plot,
    /// What is tried.
    tried: Memo<f64>,
) -> impl IntoView {
    let table = table_of(&plot);
    let plot = Arc::new(plot);
    let over = Arc::clone(&plot);
    let drawn = with_line(&plot, text(move || tried_line(&over, tried.get(), "tried")));
    view! {
        <figure class="plot">
            {drawn}
            {table}
        </figure>
    }
}

/// A plot with its slider.
#[component]
pub fn TracePlot(
    /// What is drawn.
    plot: Plot,
    /// Where the slider stands: kept by the owner, so that it stays when the plot is drawn again.
    step: RwSignal<Option<u32>>,
) -> impl IntoView {
    let plot = Arc::new(plot);
    let (over, read) = (Arc::clone(&plot), Arc::clone(&plot));
    let moment =
        move |plot: &Plot| step.get().map(|step| x_axis(plot).value(f64::from(step) / f64::from(STEPS)));
    let reading = Arc::new(move || match moment(&read) {
        None => "Slide to read the values at a moment.".to_owned(),
        Some(x) => reading(&read, x),
    });
    let spoken = Arc::clone(&reading);
    let line = text(move || moment(&over).map(|x| cursor(&over, x)).unwrap_or_default());
    let drawn = with_line(&plot, line);
    view! {
        <figure class="plot">
            {drawn}
            <input class="scrub" type="range" min="0" max=STEPS.to_string() step="1" aria-label="Moment"
                prop:value=text(move || step.get().unwrap_or(0).to_string()) aria-valuetext=text(move || spoken())
                on:input=typed(move |value| step.set(value.parse().ok())) />
            <output class="plot-reading">{text(move || reading())}</output>
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
