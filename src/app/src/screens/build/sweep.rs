//! The builder's sweep: minutes, margin and current while one thing is varied.

use leptos::prelude::*;
use liftmargin_document::present::Units;
use liftmargin_document::sweep::{Sweep, SweepAxis, SweepPoint, sweep};
use liftmargin_document::words;
use liftmargin_document::words::contingency::{crossings, sweep_axis, sweep_place};
use uom::si::electric_current::ampere;
use uom::si::time::minute;

use super::Section;
use crate::live::{live, text};
use crate::parts::{ChoiceField, Ink, LimitLine, Mark, Panel, Plot, Series, TracePlot};
use crate::store::{Answer, Store};

/// Enough for a smooth curve, quick enough for a phone.
const PLACES: usize = 31;

/// A sweep of the saved setup, drawn once the fingers rest.
#[component]
pub fn SweepSection() -> impl IntoView {
    let store = Store::here();
    let answer = Answer::here();
    let axis = RwSignal::new(None::<SweepAxis>);
    let step = RwSignal::new(None);
    let axes = move || {
        let mut choices = vec![(String::new(), "choose…".to_owned())];
        let named =
            |axis: SweepAxis| (axis.key().to_owned(), sweep_axis(axis, store.units.get()).0.to_owned());
        choices.extend(SweepAxis::ALL.map(named));
        choices
    };
    let choose = Callback::new(move |key: String| {
        axis.set(SweepAxis::ALL.into_iter().find(|axis| axis.key() == key));
    });
    let drawn = move || {
        let axis = axis.get()?;
        // Follows what has settled, so that typing draws nothing.
        answer.saved.settled.get()?;
        let airframe = answer.airframe.get_untracked()?.ok()?.airframe;
        let id = store.open.get();
        let swept = store.bundle.with_untracked(|bundle| sweep(bundle, &id, &airframe, axis, PLACES));
        let units = store.units.get();
        let swept = match swept {
            Ok(swept) => swept,
            Err(fault) => {
                return Some(super::super::listing::fault_view(words::sentence(&fault.to_string())));
            }
        };
        let words = crossings(&swept, axis, units);
        let plot = plot(&swept, axis, units);
        Some(view! { <TracePlot plot step /> <p data-figure="sweep-limits">{words}</p> }.into_any())
    };
    let value = text(move || axis.get().map(|axis| axis.key().to_owned()).unwrap_or_default());
    view! {
        <Section title="Over a range">
            <ChoiceField label="Vary" options=Box::new(axes) value on_change=choose />
            {live(drawn)}
        </Section>
    }
}

fn plot(sweep: &Sweep, axis: SweepAxis, units: Units) -> Plot {
    let (name, unit) = sweep_axis(axis, units);
    let place = |at: f64| sweep_place(axis, at, units);
    let series = |value: fn(&SweepPoint) -> Option<f64>| {
        let points = sweep.points.iter().filter_map(|point| Some((place(point.at), value(point)?))).collect();
        vec![Series { name: String::new(), ink: Ink::Line, points }]
    };
    let panel = |title: &str, unit: &str, decimals, limits, value| Panel {
        title: title.to_owned(),
        unit: unit.to_owned(),
        decimals,
        series: series(value),
        limits,
        from_zero: true,
    };
    let level = LimitLine { value: 1.0, label: "weight".to_owned() };
    let mut marks = vec![Mark { x: place(sweep.now), label: "now".to_owned() }];
    marks.extend(
        sweep.crossings.iter().map(|crossing| Mark { x: place(crossing.at), label: "limit".to_owned() }),
    );
    Plot {
        x_title: name.to_owned(),
        x_unit: unit.symbol().to_owned(),
        x_decimals: usize::from(unit.decimals()),
        panels: vec![
            panel("Flight time, typical", "min", 1, Vec::new(), |point| {
                Some(point.flight_time.map_or(0.0, |time| time.get::<minute>()))
            }),
            panel("Thrust-to-weight", "", 2, vec![level], |point| Some(point.thrust_to_weight.value)),
            panel("Hover current", "A", 0, Vec::new(), |point| Some(point.hover_current?.get::<ampere>())),
        ],
        marks,
        summary: format!(
            "Flight time, thrust-to-weight and hover current over {}.",
            words::lower_first(name)
        ),
        decimal_mark: units.decimal_mark(),
    }
}
