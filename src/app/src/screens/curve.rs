//! A curve as it stands on a screen: being worked out, drawn, or why there is none.

use leptos::prelude::*;
use liftmargin_core::units::{ElectricCharge, Time};
use liftmargin_document::present::{Unit, Units};
use liftmargin_document::sweep::{PLACES, Sweep, SweepAxis, SweepPoint, SweptFlight, Two};
use liftmargin_document::words;
use liftmargin_document::words::contingency::{crossings, sweep_axis, sweep_place};
use uom::si::electric_current::ampere;
use uom::si::time::minute;

use super::listing::fault_view;
use crate::live::{live, text};
use crate::parts::{Ink, LimitLine, Mark, Panel, Plot, Series};
use crate::store::{Curve, Store, Sweeping};

/// Whatever of a curve is there; `draw` shows it once it is drawn.
pub fn curve(
    sweeping: Sweeping,
    axis: impl Fn() -> SweepAxis + Send + Sync + Copy + 'static,
    draw: impl Fn(Sweep) -> AnyView + Send + Sync + 'static,
) -> AnyView {
    let units = Store::here().units;
    let is_busy =
        move || !sweeping.curve.with(|curve| matches!(curve, Curve::Drawn(_, true) | Curve::Fault(_)));
    let words = text(move || {
        sweeping.curve.with(|curve| match curve {
            Curve::Drawn(sweep, true) => crossings(sweep, axis(), units.get()),
            Curve::Drawn(_, false) => "Looking for the place where a check says no.".to_owned(),
            Curve::Working(places) => format!("Working out place {} of {PLACES}.", (places + 1).min(PLACES)),
            Curve::Nothing | Curve::Fault(_) => String::new(),
        })
    });
    // Drawn once: that the limits are found changes the marks, so it is drawn once more then.
    let drawn = move || match sweeping.curve.get() {
        Curve::Drawn(sweep, _) => draw(sweep),
        Curve::Fault(fault) => fault_view(words::sentence(&fault.to_string())),
        Curve::Nothing | Curve::Working(_) => ().into_any(),
    };
    view! {
        <div class="curve" aria-busy=text(move || is_busy().to_string())>{live(drawn)}</div>
        <p data-figure="sweep-limits">{words}</p>
    }
    .into_any()
}

/// Minutes alone, for a mass on a slider.
pub fn minutes_plot(sweep: &Sweep, units: Units) -> Plot {
    plot(
        sweep,
        SweepAxis::PayloadMass,
        "Mass",
        "as saved",
        vec![minutes(sweep, SweepAxis::PayloadMass, units)],
        units,
    )
}

/// All that a builder asks of an axis.
pub fn sweep_plot(sweep: &Sweep, axis: SweepAxis, units: Units) -> Plot {
    let charge = |read: fn(&SweptFlight) -> Two<ElectricCharge>| {
        of_flight(sweep, axis, units, read, |charge| Unit::MilliampereHour.from_si(charge.value))
    };
    let panels = if axis.is_of_the_way() {
        let on_set = of_flight(sweep, axis, units, |flight| flight.on_set, |time: Time| time.get::<minute>());
        vec![
            minutes(sweep, axis, units),
            panel("Time on set", "min", 1, on_set),
            panel("Turn back", "mAh", 0, charge(|flight| flight.turn_back)),
        ]
    } else {
        let level = LimitLine { value: 1.0, label: "weight".to_owned() };
        let thrust = [
            series(sweep, axis, units, "cautious", |point| Some(point.thrust_to_weight.cautious.value)),
            series(sweep, axis, units, "typical", |point| Some(point.thrust_to_weight.typical.value)),
        ];
        let current =
            vec![series(sweep, axis, units, "", |point| Some(point.hover_current?.get::<ampere>()))];
        vec![
            minutes(sweep, axis, units),
            Panel { limits: vec![level], ..panel("Thrust-to-weight", "", 2, thrust.into()) },
            panel("Hover current, typical", "A", 0, current),
        ]
    };
    let (name, _) = sweep_axis(axis, units);
    plot(sweep, axis, name, "now", panels, units)
}

fn minutes(sweep: &Sweep, axis: SweepAxis, units: Units) -> Panel {
    let drawn = of_flight(sweep, axis, units, |flight| flight.time, |time: Time| time.get::<minute>());
    panel("Flight time", "min", 1, drawn)
}

/// The cautious curve and the typical one beside it; zero without a flight.
fn of_flight<T: Copy>(
    sweep: &Sweep,
    axis: SweepAxis,
    units: Units,
    read: fn(&SweptFlight) -> Two<T>,
    shown: fn(T) -> f64,
) -> Vec<Series> {
    let value = |point: &SweepPoint, of: fn(Two<T>) -> T| {
        Some(point.flight.as_ref().map_or(0.0, |flight| shown(of(read(flight)))))
    };
    vec![
        series(sweep, axis, units, "cautious", |point| value(point, |two| two.cautious)),
        series(sweep, axis, units, "typical", |point| value(point, |two| two.typical)),
    ]
}

fn series(
    sweep: &Sweep,
    axis: SweepAxis,
    units: Units,
    name: &str,
    value: impl Fn(&SweepPoint) -> Option<f64>,
) -> Series {
    let point = |point: &SweepPoint| Some((sweep_place(axis, point.at, units), value(point)?));
    let ink = if name == "typical" { Ink::Thin } else { Ink::Line };
    Series { name: name.to_owned(), ink, points: sweep.points.iter().filter_map(point).collect() }
}

fn panel(title: &str, unit: &str, decimals: usize, series: Vec<Series>) -> Panel {
    let (title, unit) = (title.to_owned(), unit.to_owned());
    Panel { title, unit, decimals, series, limits: Vec::new(), from_zero: true }
}

fn plot(sweep: &Sweep, axis: SweepAxis, name: &str, now: &str, panels: Vec<Panel>, units: Units) -> Plot {
    let (_, unit) = sweep_axis(axis, units);
    let mut marks = vec![Mark { x: sweep_place(axis, sweep.now, units), label: now.to_owned() }];
    marks.extend(
        sweep
            .crossings
            .iter()
            .map(|crossing| Mark { x: sweep_place(axis, crossing.at, units), label: "limit".to_owned() }),
    );
    let titles = panels.iter().map(|panel| words::lower_first(&panel.title)).collect::<Vec<_>>().join(", ");
    Plot {
        x_title: name.to_owned(),
        x_unit: unit.symbol().to_owned(),
        x_decimals: usize::from(unit.decimals()),
        panels,
        marks,
        summary: words::sentence(&format!("{titles} over {}", words::lower_first(name))),
        decimal_mark: units.decimal_mark(),
    }
}
