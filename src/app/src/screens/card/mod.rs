//! Card: one setup, here, now.

mod facts;
mod flight_plot;
mod large;
mod share;
mod words;

use std::sync::Arc;

use leptos::prelude::*;
use liftmargin_core::card::{Card, Setup};
use liftmargin_core::limits::State;
use liftmargin_document::DocumentError;
use liftmargin_document::measure::{Units, checks};

use self::facts::Facts;
use self::flight_plot::FlightPlot;
use self::large::Large;
use self::share::ShareAnswer;
use self::words::{Assumptions, SafetyWords};
use super::build::SetupChoice;
use super::problem::Problem;
use super::what_if::WhatIfPanel;
use crate::parts::{CheckList, EmptyState, VerdictBanner};
use crate::store::{Answer, Store, Track, demo_bundle, is_invented};

/// The screen.
#[component]
pub fn CardScreen() -> impl IntoView {
    let store = Store::here();
    let answer = Answer::here();
    let track = Memo::new(move |_| answer.shown(store));
    view! {
        <main data-screen="card">
            <h1 class="only-read">"Card"</h1>
            <Show when=move || !store.open.get().is_empty() fallback=NoSetup>
                <SetupChoice />
                <InventedMark />
            </Show>
            {move || view! { <TrackCard track=track.get() /> }}
            <Show when=move || !store.open.get().is_empty()>
                <WhatIfPanel />
            </Show>
            <Below track />
            <SafetyWords />
        </main>
    }
}

#[component]
fn NoSetup() -> impl IntoView {
    view! {
        <EmptyState title="There is no setup yet">
            <p>"Start one on Build, or open a file on Settings."</p>
            <p class="row"><a class="button" href="#/build">"Build a setup"</a> <a class="button" href="#/settings">"Open a file"</a></p>
        </EmptyState>
    }
}

/// Nobody may take invented figures for a real aircraft's.
#[component]
fn InventedMark() -> impl IntoView {
    let store = Store::here();
    let demo = StoredValue::new(demo_bundle());
    let invented = Memo::new(move |_| {
        let setup = store.with_setup(Clone::clone)?;
        demo.with_value(|demo| store.bundle.with(|bundle| is_invented(demo, bundle, &setup))).then_some(())
    });
    move || invented.get().map(|()| view! { <p class="invented">"Demo: an invented aircraft"</p> })
}

/// The answer, or why there is none.
#[component]
fn TrackCard(track: Track) -> impl IntoView {
    let fault = Memo::new(move |_| fault_of(track));
    let card = Memo::new(move |_| card_of(track));
    let there = Memo::new(move |_| card.with(Option::is_some));
    view! {
        {move || fault.get().map(|fault| view! { <Problem fault /> })}
        {move || there.get().then(|| view! {
            <Verdict track />
            <Large track />
            <Facts track />
        })}
    }
}

/// Why there is no card.
fn fault_of(track: Track) -> Option<DocumentError> {
    track.card.with(|card| card.as_ref().and_then(|card| card.as_ref().err().cloned()))
}

/// The card, if there is one.
pub fn card_of(track: Track) -> Option<Arc<Card>> {
    track.card.with(|card| card.as_ref().and_then(|card| card.as_ref().ok().cloned()))
}

/// The setup as core has it.
pub fn setup_of<T>(track: Track, read: impl FnOnce(&Setup) -> T) -> Option<T> {
    track.ready.with(|ready| ready.as_ref().and_then(|ready| ready.as_ref().ok().map(|ready| read(&ready.0))))
}

/// What is less pressing: all checks, the course of the flight, what it rests on.
#[component]
fn Below(track: Memo<Track>) -> impl IntoView {
    move || {
        let track = track.get();
        let there = card_of(track).is_some();
        there.then(|| {
            view! {
                <Checks track />
                <FlightPlot track />
                <Assumptions track />
                <ShareAnswer track />
            }
        })
    }
}

#[component]
fn Verdict(track: Track) -> impl IntoView {
    let store = Store::here();
    let verdict = Memo::new(move |_| card_of(track).map(|card| card.verdict));
    let sentence = Signal::derive(move || {
        card_of(track).map(|card| verdict_words(&card, store.units.get())).unwrap_or_default()
    });
    let state = Signal::derive(move || verdict.get().map_or(State::No, |verdict| verdict.state));
    view! { <VerdictBanner state sentence /> }
}

#[component]
fn Checks(track: Track) -> impl IntoView {
    let store = Store::here();
    let checks = Signal::derive(move || card_of(track).map(|card| card.checks.clone()).unwrap_or_default());
    view! {
        <section>
            <h2>"All checks"</h2>
            <CheckList checks units=store.units />
        </section>
    }
}

/// The verdict, its worst check and by how much.
fn verdict_words(card: &Card, units: Units) -> String {
    let words = checks::verdict(&card.verdict);
    match card.checks.iter().find(|check| Some(check.kind) == card.verdict.worst) {
        Some(worst) => {
            let by_how_much = [checks::value(worst, units), checks::limit(worst, units), checks::room(worst)];
            let by_how_much =
                by_how_much.into_iter().filter(|words| !words.is_empty()).collect::<Vec<_>>().join(", ");
            format!("{words} {}", liftmargin_document::measure::words::sentence(&by_how_much))
        }
        None => words,
    }
}
