//! Voltage and charge over the flight, to be read off at any moment.

use leptos::prelude::*;
use liftmargin_core::card::Setup;
use liftmargin_core::flight::{Flight, Sample};
use liftmargin_core::supply::MeterPlace;
use liftmargin_document::measure::{Unit, Units, words};
use uom::si::electric_potential::volt;
use uom::si::time::minute;

use super::setup_of;
use crate::live::live;
use crate::parts::{Ink, LimitLine, Mark, Panel, Plot, Series, TracePlot};
use crate::store::{Store, Track, flight_of};

/// The plot; drawn once the fingers rest.
#[component]
pub fn FlightPlot(track: Track) -> impl IntoView {
    let store = Store::here();
    let step = RwSignal::new(None);
    live(move || {
        let card = track.settled.get()?;
        let flight = flight_of(&card)?;
        let plot = setup_of(track, |setup| plot(flight, setup, store.units.get()))?;
        Some(view! {
            <section>
                <h2>"Over the flight"</h2>
                <TracePlot plot step />
            </section>
        })
    })
}

fn plot(flight: &Flight, setup: &Setup, units: Units) -> Plot {
    let at = |time: liftmargin_core::units::Time| time.get::<minute>();
    let marks = [("turn back", flight.turn_back_at), ("land by", flight.land_by_at)]
        .map(|(label, time)| Mark { x: at(time), label: label.to_owned() });
    Plot {
        x_title: "Time since motor start".to_owned(),
        x_unit: "min".to_owned(),
        x_decimals: 1,
        panels: vec![voltage(flight, setup), charge(flight, setup)],
        marks: marks.to_vec(),
        summary: "Voltage under load and mAh by the meter on board, from motor start to land-by.".to_owned(),
        decimal_mark: units.decimal_mark(),
    }
}

fn series(flight: &Flight, name: &str, value: impl Fn(&Sample) -> f64) -> Series {
    let points = flight.samples.iter().map(|sample| (sample.time.get::<minute>(), value(sample))).collect();
    Series { name: name.to_owned(), ink: Ink::Line, points }
}

fn voltage(flight: &Flight, setup: &Setup) -> Panel {
    let first = setup.supply.strings.first();
    let cells: u32 = first.iter().flat_map(|string| &string.packs).map(|pack| pack.cells_in_series).sum();
    let floor = setup.policy.loaded_cell_floor * f64::from(cells);
    Panel {
        title: "Voltage under load".to_owned(),
        unit: "V".to_owned(),
        decimals: 1,
        series: vec![series(flight, "voltage", |sample| sample.bus_voltage.get::<volt>())],
        limits: vec![LimitLine { value: floor.get::<volt>(), label: "floor".to_owned() }],
        from_zero: false,
    }
}

fn charge(flight: &Flight, setup: &Setup) -> Panel {
    let shown = |coulomb: f64| Unit::MilliampereHour.from_si(coulomb);
    let scale = 1.0 + setup.supply.meter.scale_error.value;
    let read = move |sample: &Sample| match flight.marks.place {
        MeterPlace::Bus => sample.strings.iter().map(|string| string.used.value).sum::<f64>() * scale,
        MeterPlace::String(index) => {
            sample.strings.get(index).map_or(0.0, |string| string.used.value) * scale
        }
    };
    Panel {
        title: format!("Used, {}", words::meter_place(flight.marks.place)),
        unit: "mAh".to_owned(),
        decimals: 0,
        series: vec![series(flight, "used", |sample| shown(read(sample)))],
        limits: vec![LimitLine {
            value: shown(flight.marks.land_by.value),
            label: "land by (middle)".to_owned(),
        }],
        from_zero: true,
    }
}
