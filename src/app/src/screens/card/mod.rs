//! Card: one setup, here, now.

mod contingency;
mod corrected;
mod counted;
mod flight_plot;
mod head;
mod share;
mod wind;
mod words;

use std::sync::Arc;

use leptos::prelude::*;
use liftmargin_core::card::{Card, Judgement, Setup};
use liftmargin_core::limits::Thresholds;
use liftmargin_document::DocumentError;
use liftmargin_document::present::{Standing, Units};
use liftmargin_document::words::way_out::notes as words_of_checks;

use self::contingency::{ContingencyAnswer, WarmAdvice};
use self::counted::CountedLine;
use self::flight_plot::FlightPlot;
use self::head::head;
use self::share::ShareAnswer;
use self::wind::GreatestWindFigure;
use self::words::{Assumptions, SafetyWords};
use super::answer_bar::AnswerBar;
use super::build::{SetupChoice, assumed_steps};
use super::heavier::{HeavierSheet, heavier};
use super::later::Modules;
use super::sharing::SharePanel;
use super::what_if::WhatIfPanel;
use crate::live::{a_frame_behind, act, live, live_while, memo, text};
use crate::parts::{CheckList, EmptyState};
use crate::platform::{clock, page, route};
use crate::store::{Answer, Settled, Store, Track, is_invented};

/// The screen.
#[component]
pub fn CardScreen() -> impl IntoView {
    let store = Store::here();
    let answer = Answer::here();
    let none = move || store.open.with(String::is_empty);
    let track = memo(move || answer.shown(store));
    let modules = Modules::here();
    view! {
        <main data-screen="card" data-of=text(move || if store.has_what_if() { "what-if" } else { "saved" }.to_owned())>
            <h1 class="only-read">"Card"</h1>
            {live_while(none, no_setup)}
            {live_while(move || !none(), move || view! { <SetupChoice /> {invented_mark(store)} })}
            {live_while(move || !none(), || view! { <p class="row onward"><a class="button button-strong to-airborne" href="#/airborne">"Airborne"</a></p> })}
            {live_while(move || !none(), || view! { <HeavierSheet /> })}
            {printed_at()}
            <div class="answer-side">{head(store, track)}</div>
            {corrected::corrected(store)}
            {live_while(move || !none(), || view! { <CountedLine /> })}
            {assumed_note(store)}
            {beginnings(store)}
            {live(move || view! { <WarmAdvice track=track.get() /> })}
            {live_while(move || !none(), move || modules.part(Part::WhatIf))}
            {modules.part(Part::Below)}
            <SafetyWords />
        </main>
    }
}

/// What follows the first card, in a module of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Part {
    /// What differs from the setup as saved.
    WhatIf,
    /// What is less pressing.
    Below,
    /// What may become of what is on board.
    Heavier,
    /// The answer in one line, where a setup is changed.
    AnswerBar,
}

impl Part {
    /// Name for people.
    pub const fn name(self) -> &'static str {
        match self {
            Self::WhatIf => "What if",
            Self::Below => "What stands below",
            Self::Heavier => "What is on board",
            Self::AnswerBar => "The answer",
        }
    }
}

/// A part of the card.
pub fn part(part: Part) -> AnyView {
    match part {
        Part::WhatIf => view! { <WhatIfPanel /> }.into_any(),
        Part::Below => view! { <Below /> }.into_any(),
        Part::Heavier => heavier(),
        Part::AnswerBar => view! { <AnswerBar /> }.into_any(),
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
    live_while(invented(store), || view! { <p class="invented">"Demo: an invented aircraft"</p> })
}

fn invented(store: Store) -> impl Fn() -> bool + Send + Sync + 'static {
    move || {
        let invented = |setup: &_| store.bundle.with(|bundle| is_invented(bundle, setup));
        store.with_setup(invented).unwrap_or_default()
    }
}

/// The first start: beside looking at the demo, below the answer.
fn beginnings(store: Store) -> AnyView {
    let begin = move || {
        store.new_setup("My first setup");
        route::go("/build");
    };
    let choices = move || {
        view! {
            <p class="row begin">
                <button type="button" on:click=act(begin)>"Begin my own aircraft"</button>
                <a class="button" href="#/settings">"Open a file"</a>
            </p>
        }
    };
    live_while(invented(store), choices)
}

/// When it was printed: a card on paper is of one moment's weather.
fn printed_at() -> AnyView {
    let at = RwSignal::new(clock::now_words());
    page::on_print(move || drop(at.try_set(clock::now_words())));
    view! { <p class="print-only" data-figure="printed-at">"Liftmargin card, " {text(move || at.get())}</p> }
        .into_any()
}

/// What the card counts with though nobody has entered it.
fn assumed_note(store: Store) -> AnyView {
    let words = memo(move || {
        let steps = assumed_steps(store, &store.open.get());
        steps.into_iter().map(|step| step.words).collect::<Vec<_>>().join(", ")
    });
    let note = move || view! { <p class="advice" data-figure="assumed">"Assumed, entered by nobody: " {text(move || words.get())} "."</p> };
    live_while(move || words.with(|words| !words.is_empty()), note)
}

/// Why there is no card.
pub fn fault_of(track: Track) -> Option<DocumentError> {
    track.card.with(|card| card.as_ref().and_then(|card| card.as_ref().err().cloned()))
}

/// The card, if there is one.
pub fn card_of(track: Track) -> Option<Arc<Card>> {
    track.card.with(|card| card.as_ref().and_then(|card| card.as_ref().ok().cloned()))
}

/// The checks and the verdict with what sampling has found; while it is under way, with what it found last.
pub fn judged(track: Track, card: &Card) -> Judgement {
    match track.last_cautious() {
        (None, false) => Judgement { checks: card.checks.clone(), verdict: card.verdict },
        (last, _) => card.judged(last.as_deref(), &Thresholds::default()),
    }
}

/// How the setup stands, in short.
pub fn standing_of(track: Track) -> Option<Standing> {
    let card = card_of(track)?;
    let headline = track.sampled_headline();
    Some(Standing::new(&card, &judged(track, &card), headline))
}

/// The setup as core has it.
pub fn setup_of<T>(track: Track, read: impl FnOnce(&Setup) -> T) -> Option<T> {
    track.ready.with(|ready| ready.as_ref().and_then(|ready| ready.as_ref().ok().map(|ready| read(&ready.0))))
}

/// What is less pressing: all checks, the course of the flight, what it rests on.
#[component]
fn Below() -> impl IntoView {
    let store = Store::here();
    // A what-if that begins is another track: all below is built anew, and the figures above do not wait for it.
    let now = track_with_card(store);
    let track = a_frame_behind(now);
    let below = move |track: Track| {
        view! {
            <GreatestWindFigure track />
            {live(move || checks(track, store.units.get()))}
            <FlightPlot track />
            <ContingencyAnswer track />
            <Assumptions track />
            <ShareAnswer track />
        }
    };
    let is_any = move || !store.open.with(String::is_empty);
    view! {
        {live(move || track.get().map(below))}
        {live_while(is_any, || view! { <SharePanel /> })}
    }
}

/// The track shown, once it has a card.
fn track_with_card(store: Store) -> Memo<Option<Track>> {
    let answer = Answer::here();
    memo(move || {
        let track = answer.shown(store);
        card_of(track).map(|_| track)
    })
}

/// The flight beside what is entered, where the window has room for both: the style sheet's workbench.
pub fn flight_beside() -> AnyView {
    let store = Store::here();
    let has_room = page::is_window("(min-width: 70em)");
    let track = track_with_card(store);
    let flight = move || match track.get() {
        Some(track) => view! { <FlightPlot track /> }.into_any(),
        None => view! { <p class="quiet">"The flight is drawn here once there is an answer."</p> }.into_any(),
    };
    let beside = move || view! { <div class="flight-beside">{live(flight)}</div> };
    live_while(move || has_room.get() && !store.open.with(String::is_empty), beside)
}

/// All checks, once the fingers rest: the verdict above follows every keystroke.
fn checks(track: Track, units: Units) -> Option<AnyView> {
    let Settled { card, beside } = track.settled.get()?;
    let speeds = beside.and_then(|beside| beside.speeds);
    // What settles with the card is not followed: the list is drawn once.
    let (judged, transit) =
        untrack(|| (judged(track, &card), setup_of(track, |setup| setup.profile.transit_airspeed)));
    let transit = transit?;
    let state_of = |kind| judged.checks.iter().find(|check| check.kind == kind).map(|check| check.state);
    let notes = words_of_checks(&card, state_of, transit, speeds.as_ref(), units);
    let view = view! {
        <section>
            <h2>"All checks"</h2>
            <CheckList checks=judged.checks notes units />
        </section>
    };
    Some(view.into_any())
}
