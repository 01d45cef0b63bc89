//! What stands beside the answer: every meter, turning back from elsewhere, a lost string, the best speeds.

use leptos::prelude::*;
use liftmargin_core::card::Contingencies;
use liftmargin_core::flight::Flight;
use liftmargin_document::present::{
    Cautioned, Choice, Headline, MeterLine, Units, answer, by_meter, turn_back_lines,
};
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
        let settled = track.settled_later.get()?;
        let (flight, contingencies) = (flight_of(&settled.card)?, settled.beside.clone()?);
        let units = store.units.get();
        // What settles with the card is not followed: the tables are drawn once.
        let headline = untrack(|| track.sampled_headline())?;
        Some(view! {
            {meters(flight, headline, units)}
            {turn_back(&contingencies, flight, headline, units)}
            {losses(&contingencies, units)}
        })
    })
}

/// Advice that changes what the crew does before take-off.
#[component]
pub fn WarmAdvice(track: Track) -> impl IntoView {
    let store = Store::here();
    live(move || {
        let contingencies = track.settled_later.get()?.beside?;
        let words = warming(&contingencies.warming, contingencies.warmed_to, store.units.get())?;
        Some(view! { <p class="advice" data-figure="warming">{words}</p> })
    })
}

/// Every meter that could be on board, cautious with the typical beside it.
fn meters(flight: &Flight, headline: Headline, units: Units) -> Option<AnyView> {
    let row = |line: MeterLine| {
        let own = if line.is_on_board { " (on board)" } else { "" };
        let name = format!("{}{own}", words::meter_place(line.place));
        vec![name, reading(line.turn_back, units), reading(line.land_by, units)]
    };
    let rows = by_meter(flight, headline)?.into_iter().map(row).collect();
    let head = ["Meter", "Turn back", "Land by"].map(str::to_owned).to_vec();
    let view = view! {
        <section data-figure="meters">
            <h2>"By each meter"</h2>
            <Table caption="mAh, cautious as the large figures; the typical value is small below.".to_owned() head rows />
        </section>
    };
    Some(view.into_any())
}

/// A reading to act on and, on a line of its own, the typical one.
fn reading(reading: Cautioned, units: Units) -> String {
    let typical = answer::charge(reading.typical, units).number;
    let cautious = answer::charge(reading.cautious, units);
    if reading.cautious.value > 0.0 {
        format!("{}\ntypical {typical}", cautious.number)
    } else {
        format!("not assured\ntypical {typical}")
    }
}

fn turn_back(
    contingencies: &Contingencies,
    flight: &Flight,
    headline: Headline,
    units: Units,
) -> Option<AnyView> {
    let mut head = vec!["Distance to the set".to_owned()];
    head.extend(
        contingencies.turn_back.winds.iter().map(|wind| format!("wind {}", answer::wind(*wind, units))),
    );
    let distance = units.get(Choice::Distance);
    let rows = turn_back_lines(&contingencies.turn_back, flight, headline)?.into_iter().map(|row| {
        let mut cells = vec![
            answer::stepped(row.distance.value, distance, 1.0, answer::Toward::Nearest, units).to_string(),
        ];
        cells.extend(
            row.turn_back
                .into_iter()
                .map(|cell| cell.map_or_else(|| "no flight".to_owned(), |cell| reading(cell, units))),
        );
        cells
    });
    let view = view! {
        <section data-figure="turn-back-table">
            <h2>"Turn back from elsewhere"</h2>
            <Table caption="mAh by the meter on board, cautious, home against the wind; the typical value is small below.".to_owned()
                head rows=rows.collect() />
            <p class="quiet">{speeds(contingencies.speeds.as_ref(), units)}</p>
        </section>
    };
    Some(view.into_any())
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
