//! Voltage, current and charge over the flight, to be read off at any moment.

use leptos::prelude::*;
use liftmargin_core::card::{LostString, Setup};
use liftmargin_core::flight::{Flight, Sample};
use liftmargin_core::supply::{Meter, PackString};
use liftmargin_core::units::{ElectricCurrent, Time};
use liftmargin_document::present::{Unit, Units, meter_reading};
use liftmargin_document::words;
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::time::minute;

use super::setup_of;
use crate::live::{flag, live, text};
use crate::parts::{Ink, LimitLine, Mark, Panel, Plot, Series, SwitchRow, TracePlot};
use crate::store::{Store, Track, flight_of};

/// The plot; drawn once the fingers rest.
#[component]
pub fn FlightPlot(track: Track) -> impl IntoView {
    let store = Store::here();
    let step = RwSignal::new(None);
    let with_loss = RwSignal::new(false);
    live(move || {
        let settled = track.settled.get()?;
        let flight = flight_of(&settled.card)?;
        let lost = settled
            .beside
            .as_ref()
            .filter(|_| with_loss.get())
            .and_then(|contingencies| contingencies.strings_lost.last());
        let units = store.units.get();
        let plot = untrack(|| setup_of(track, |setup| plot(flight, lost, setup, units)))?;
        Some(view! {
            <section class="flight-plot">
                <h2>"Over the flight"</h2>
                <TracePlot plot step />
                <SwitchRow label=text(|| "Show a string lost when turning back".to_owned()) on=flag(move || with_loss.get())
                    on_change=Callback::new(move |on| with_loss.set(on)) sub=text(String::new) />
            </section>
        })
    })
}

fn plot(flight: &Flight, lost: Option<&LostString>, setup: &Setup, units: Units) -> Plot {
    let at = |time: Time| time.get::<minute>();
    let marks = [("turn back", flight.turn_back_at), ("land by", flight.land_by_at)]
        .map(|(label, time)| Mark { x: at(time), label: label.to_owned() });
    Plot {
        x_title: "Time since motor start".to_owned(),
        x_unit: "min".to_owned(),
        x_decimals: 1,
        panels: vec![voltage(flight, lost, setup), current(flight, lost, setup), charge(flight, setup)],
        marks: marks.to_vec(),
        summary: "Voltage under load, current of each string and mAh used, from motor start to land-by."
            .to_owned(),
        decimal_mark: units.decimal_mark(),
    }
}

/// Points over the flight, or over the way home after a loss.
fn series(samples: &[Sample], name: &str, ink: Ink, value: impl Fn(&Sample) -> Option<f64>) -> Series {
    let point = |sample: &Sample| Some((sample.time.get::<minute>(), value(sample)?));
    Series { name: name.to_owned(), ink, points: samples.iter().filter_map(point).collect() }
}

fn voltage(flight: &Flight, lost: Option<&LostString>, setup: &Setup) -> Panel {
    let first = setup.supply.strings.first();
    let cells: u32 = first.iter().flat_map(|string| &string.packs).map(|pack| pack.cells_in_series).sum();
    let floor = setup.policy.loaded_cell_floor * f64::from(cells);
    let volts = |sample: &Sample| Some(sample.bus_voltage.get::<volt>());
    let mut drawn = vec![series(&flight.samples, "voltage", Ink::Line, volts)];
    if let Some(lost) = lost {
        drawn.push(series(&lost.lost.samples, "one string lost", Ink::Dashed, volts));
    }
    Panel {
        title: "Voltage under load".to_owned(),
        unit: "V".to_owned(),
        decimals: 1,
        series: drawn,
        limits: vec![LimitLine { value: floor.get::<volt>(), label: "floor".to_owned() }],
        from_zero: false,
    }
}

fn current(flight: &Flight, lost: Option<&LostString>, setup: &Setup) -> Panel {
    let of = |samples: &[Sample], string: usize, name: &str, ink: Ink| {
        series(samples, name, ink, |sample| Some(sample.strings.get(string)?.current.get::<ampere>()))
    };
    let inks = [Ink::Line, Ink::Dotted, Ink::Dashed];
    let own = |(order, (string, _)): (usize, (usize, &PackString))| {
        let ink = inks.get(order).copied().unwrap_or(Ink::Line);
        of(&flight.samples, string, &format!("string {}", string + 1), ink)
    };
    let mut drawn: Vec<Series> = setup.supply.unlike_strings().enumerate().map(own).collect();
    if let Some(lost) = lost {
        drawn.push(of(&lost.lost.samples, 0, "the rest, one lost", Ink::Dashed));
    }
    let rating =
        setup.supply.strings.iter().filter_map(PackString::continuous_current).reduce(ElectricCurrent::min);
    let limit =
        |rating: ElectricCurrent| LimitLine { value: rating.get::<ampere>(), label: "C rating".to_owned() };
    Panel {
        title: "Current of a string".to_owned(),
        unit: "A".to_owned(),
        decimals: 0,
        series: drawn,
        limits: rating.map(limit).into_iter().collect(),
        from_zero: true,
    }
}

fn charge(flight: &Flight, setup: &Setup) -> Panel {
    let shown = |coulomb: f64| Unit::MilliampereHour.from_si(coulomb);
    let meter = Meter { place: flight.marks.place, ..setup.supply.meter };
    let read = move |sample: &Sample| meter_reading(sample, &meter).value;
    let mut drawn =
        vec![series(&flight.samples, "by the meter", Ink::Line, |sample| Some(shown(read(sample))))];
    drawn.extend(setup.supply.unlike_strings().map(|(index, _)| {
        let used = |sample: &Sample| Some(shown(sample.strings.get(index)?.used.value));
        series(&flight.samples, &format!("string {}", index + 1), Ink::Dotted, used)
    }));
    Panel {
        title: format!("Used, {}", words::meter_place(flight.marks.place)),
        unit: "mAh".to_owned(),
        decimals: 0,
        series: drawn,
        limits: vec![LimitLine {
            value: shown(flight.marks.land_by.value),
            label: "land by (typical)".to_owned(),
        }],
        from_zero: true,
    }
}
