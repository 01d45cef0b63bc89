//! What stands beside the answer: every meter, turning back from elsewhere, a lost string, the best speeds.

use leptos::prelude::*;
use liftmargin_core::card::Contingencies;
use liftmargin_core::flight::Flight;
use liftmargin_document::present::{Choice, Units, answer};
use liftmargin_document::words;
use liftmargin_document::words::contingency::{lost_string, speeds, warming};

use crate::live::live;
use crate::parts::Table;
use crate::store::{Store, Track, flight_of};

/// What stands beside the answer, once the fingers rest.
#[component]
pub fn ContingencyAnswer(track: Track) -> impl IntoView {
    let store = Store::here();
    live(move || {
        let card = track.settled.get()?;
        let flight = flight_of(&card)?;
        let (contingencies, units) = (track.contingencies.get()?, store.units.get());
        Some(view! {
            {meters(flight, units)}
            {turn_back(&contingencies, units)}
            {losses(&contingencies, units)}
        })
    })
}

/// Advice that changes what the crew does before take-off.
#[component]
pub fn WarmAdvice(track: Track) -> impl IntoView {
    let store = Store::here();
    live(move || {
        let contingencies = track.contingencies.get()?;
        let words = warming(&contingencies.warming, contingencies.warmed_to, store.units.get())?;
        Some(view! { <p class="advice" data-figure="warming">{words}</p> })
    })
}

/// The typical figures by every meter that could be on board.
fn meters(flight: &Flight, units: Units) -> AnyView {
    let charge = |charge| answer::charge(charge, units).to_string();
    let row = |marks: &liftmargin_core::flight::MeterMarks| {
        let own = if marks.place == flight.marks.place { " (on board)" } else { "" };
        let name = format!("{}{own}", words::meter_place(marks.place));
        vec![name, charge(marks.turn_back), charge(marks.land_by)]
    };
    let rows = flight.marks_by_meter.iter().map(row).collect();
    let head = ["Meter", "Turn back", "Land by"].map(str::to_owned).to_vec();
    view! {
        <section>
            <h2>"By each meter"</h2>
            <Table caption="Middle figures; the large ones above are cautious.".to_owned() head rows />
        </section>
    }
    .into_any()
}

fn turn_back(contingencies: &Contingencies, units: Units) -> AnyView {
    let mut head = vec!["Distance to the set".to_owned()];
    head.extend(
        contingencies.turn_back.winds.iter().map(|wind| format!("wind {}", answer::wind(*wind, units))),
    );
    let distance = units.get(Choice::Distance);
    let rows = contingencies.turn_back.rows.iter().map(|row| {
        let mut cells = vec![
            answer::stepped(row.distance.value, distance, 1.0, answer::Toward::Nearest, units).to_string(),
        ];
        cells.extend(row.turn_back.iter().map(|charge| {
            charge.map_or_else(|| "no flight".to_owned(), |charge| answer::charge(charge, units).number)
        }));
        cells
    });
    view! {
        <section data-figure="turn-back-table">
            <h2>"Turn back from elsewhere"</h2>
            <Table caption="mAh by the meter on board, typical figures, home against the wind.".to_owned() head rows=rows.collect() />
            <p class="quiet">{speeds(contingencies.speeds.as_ref(), units)}</p>
        </section>
    }
    .into_any()
}

fn losses(contingencies: &Contingencies, units: Units) -> AnyView {
    let lines: Vec<AnyView> = contingencies
        .strings_lost
        .iter()
        .map(|lost| view! { <li>{lost_string(lost, units)}</li> }.into_any())
        .collect();
    view! {
        <section data-figure="strings-lost">
            <h2>"If a string is lost"</h2>
            <ul>{lines}</ul>
        </section>
    }
    .into_any()
}
