//! A plot as a table, for those who cannot see it: every place that was worked out, every quantity.

use leptos::prelude::*;
use liftmargin_document::present::number::write;

use super::super::svg::Svg;
use super::data::{Panel, Plot, Series};

/// The table, to be read aloud only.
pub fn table_of(plot: &Plot) -> AnyView {
    view! { <div class="only-read" inner_html=markup(plot) /> }.into_any()
}

fn markup(plot: &Plot) -> String {
    let all = || plot.panels.iter().flat_map(|panel| panel.series.iter().map(move |series| (panel, series)));
    let mut table = Svg::default();
    table.raw("<table>");
    table.within("caption", "", &plot.summary);
    table.raw("<thead><tr>");
    table.within("th", " scope=\"col\"", &named(&plot.x_title, "", &plot.x_unit));
    for (panel, series) in all() {
        table.within("th", " scope=\"col\"", &named(&panel.title, &series.name, &panel.unit));
    }
    table.raw("</tr></thead><tbody>");
    let longest = all().map(|(_, series)| series).max_by_key(|series| series.points.len());
    for (x, _) in longest.map(|series| series.points.as_slice()).unwrap_or_default() {
        table.raw("<tr>");
        table.within("th", " scope=\"row\"", &write(*x, plot.x_decimals, plot.decimal_mark));
        for (panel, series) in all() {
            table.within("td", "", &cell(panel, series, *x, plot));
        }
        table.raw("</tr>");
    }
    table.raw("</tbody></table>");
    table.into_text()
}

fn cell(panel: &Panel, series: &Series, x: f64, plot: &Plot) -> String {
    series.at(x).map_or_else(|| "none".to_owned(), |value| write(value, panel.decimals, plot.decimal_mark))
}

fn named(title: &str, series: &str, unit: &str) -> String {
    let parts = [title, series, unit].into_iter().filter(|part| !part.is_empty());
    parts.collect::<Vec<_>>().join(", ")
}
