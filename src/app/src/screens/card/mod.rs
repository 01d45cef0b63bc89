//! Card: one setup, here, now.

mod beside;
mod facts;
mod flight_plot;
mod large;
mod share;
mod words;

use std::sync::Arc;

use leptos::prelude::*;
use liftmargin_core::card::{Card, Setup};
use liftmargin_document::DocumentError;
use liftmargin_document::measure::checks::{limit, room, value, verdict};
use liftmargin_document::measure::{Units, words as said};

use self::beside::{BesideAnswer, WarmAdvice};
use self::facts::facts;
use self::flight_plot::FlightPlot;
use self::large::large;
use self::share::ShareAnswer;
use self::words::{Assumptions, SafetyWords};
use super::build::SetupChoice;
use super::problem::problem;
use super::what_if::WhatIfPanel;
use crate::live::{live, live_while, memo};
use crate::parts::{CheckList, EmptyState, VerdictBanner};
use crate::store::{Answer, Store, Track, demo_bundle, hero, is_invented};

/// The screen.
#[component]
pub fn CardScreen() -> impl IntoView {
    let store = Store::here();
    let answer = Answer::here();
    let none = move || store.open.with(String::is_empty);
    view! {
        <main data-screen="card">
            <h1 class="only-read">"Card"</h1>
            {live_while(none, no_setup)}
            {live_while(move || !none(), move || view! { <SetupChoice /> {invented_mark(store)} })}
            {live(move || head(store, answer.shown(store)))}
            {live(move || { let track = answer.shown(store); view! { <WarmAdvice track /> } })}
            {live_while(move || !none(), || view! { <WhatIfPanel /> })}
            <Below />
            <SafetyWords />
        </main>
    }
}

fn no_setup() -> AnyView {
    view! {
        <EmptyState title="There is no setup yet">
            <p>"Start one on Build, or open a file on Settings."</p>
            <p class="row"><a class="button" href="#/build">"Build a setup"</a> <a class="button" href="#/settings">"Open a file"</a></p>
        </EmptyState>
    }
    .into_any()
}

/// Nobody may take invented figures for a real aircraft's.
fn invented_mark(store: Store) -> AnyView {
    let demo = demo_bundle();
    let invented = move || {
        let setup = store.with_setup(Clone::clone);
        setup.is_some_and(|setup| store.bundle.with(|bundle| is_invented(&demo, bundle, &setup)))
    };
    live_while(invented, || view! { <p class="invented">"Demo: an invented aircraft"</p> })
}

/// The answer, or why there is none.
fn head(store: Store, track: Track) -> Option<AnyView> {
    if let Some(fault) = fault_of(track) {
        return Some(problem(store, fault));
    }
    let (card, units) = (card_of(track)?, store.units.get());
    let hero = track.cautious.with(|caution| hero(&card, caution));
    let large = setup_of(track, |setup| large(&card, setup, hero, units))?;
    let view = view! {
        <VerdictBanner state=card.verdict.state sentence=verdict_words(&card, units) />
        {large}
        {facts(&card, units)}
    };
    Some(view.into_any())
}

/// Why there is no card.
pub fn fault_of(track: Track) -> Option<DocumentError> {
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
fn Below() -> impl IntoView {
    let store = Store::here();
    let answer = Answer::here();
    let track = memo(move || {
        let track = answer.shown(store);
        card_of(track).map(|_| track)
    });
    let below = move |track: Track| {
        view! {
            {live(move || checks(track, store.units.get()))}
            <FlightPlot track />
            <BesideAnswer track />
            <Assumptions track />
            <ShareAnswer track />
        }
    };
    live(move || track.get().map(below))
}

/// All checks.
fn checks(track: Track, units: Units) -> Option<AnyView> {
    let card = card_of(track)?;
    let view = view! {
        <section>
            <h2>"All checks"</h2>
            <CheckList checks=card.checks.clone() units />
        </section>
    };
    Some(view.into_any())
}

/// The verdict, its worst check and by how much.
fn verdict_words(card: &Card, units: Units) -> String {
    let words = verdict(&card.verdict);
    match card.checks.iter().find(|check| Some(check.kind) == card.verdict.worst) {
        Some(worst) => {
            let by_how_much = [value(worst, units), limit(worst, units), room(worst)];
            let by_how_much =
                by_how_much.into_iter().filter(|words| !words.is_empty()).collect::<Vec<_>>().join(", ");
            format!("{words} {}", said::sentence(&by_how_much))
        }
        None => words,
    }
}
