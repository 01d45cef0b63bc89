//! A recording over what the card says.

use leptos::prelude::*;
use liftmargin_document::log::{Overlaid, overlay_of};
use liftmargin_document::present::DecimalMark;

use crate::parts::{Ink, Panel, Plot, Series, TracePlot};
use crate::store::Store;

/// The recording that is kept of a flight, over its own card; nothing where none is kept.
pub fn kept_recording(store: Store, flight: &str) -> Option<AnyView> {
    let overlaid = store.bundle.with_untracked(|bundle| overlay_of(bundle, flight))?;
    let plot = recorded_plot(overlaid, store.units.get_untracked().decimal_mark());
    Some(
        view! { <div data-figure="kept-recording"><TracePlot plot step=RwSignal::new(None) /></div> }
            .into_any(),
    )
}

/// Recorded over predicted, and the difference in what was used.
pub fn recorded_plot(overlaid: [Overlaid; 3], decimal_mark: DecimalMark) -> Plot {
    let panel = |title: &str, unit: &str, decimals: usize, from_zero: bool, series: Vec<Series>| Panel {
        title: title.to_owned(),
        unit: unit.to_owned(),
        decimals,
        series,
        limits: Vec::new(),
        from_zero,
    };
    let series = |name: &str, ink: Ink, points: Vec<(f64, f64)>| {
        (!points.is_empty()).then(|| Series { name: name.to_owned(), ink, points })
    };
    let names = [("Voltage", "V", 1, false), ("Current", "A", 0, true), ("Used", "mAh", 0, true)];
    let mut panels = Vec::new();
    for ((title, unit, decimals, from_zero), of) in names.into_iter().zip(overlaid) {
        let both: Vec<Series> =
            [series("recorded", Ink::Line, of.recorded), series("predicted", Ink::Dashed, of.predicted)]
                .into_iter()
                .flatten()
                .collect();
        if !both.is_empty() {
            panels.push(panel(title, unit, decimals, from_zero, both));
        }
        if let Some(difference) = series("difference", Ink::Line, of.difference) {
            panels.push(panel(
                &format!("{title}, recorded less predicted"),
                unit,
                decimals,
                true,
                vec![difference],
            ));
        }
    }
    Plot {
        x_title: "Time since motor start".to_owned(),
        x_unit: "min".to_owned(),
        x_decimals: 1,
        panels,
        marks: Vec::new(),
        summary: "The recording over time, with what the card of its setup says.".to_owned(),
        decimal_mark,
    }
}
