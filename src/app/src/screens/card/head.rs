//! The head of the card: verdict, land by, turn back, minutes, the figures beside them.
//!
//! Built once; what changes while somebody types are texts alone, so that a figure follows the finger; what explains it
//! comes a frame later.

use leptos::prelude::*;
use liftmargin_core::card::{Card, Judgement, Setup};
use liftmargin_core::flight::Flight;
use liftmargin_core::limits::State;
use liftmargin_core::units::ElectricCharge;
use liftmargin_document::present::Units;
use liftmargin_document::present::answer::{self, Shown};
use liftmargin_document::words;
use liftmargin_document::words::checks::{limit, margin, value, verdict};

use super::{card_of, fault_of, judged, setup_of};
use crate::live::{Text, a_frame_behind, flag, live, live_while, memo, text};
use crate::parts::{Answer, PackBar, PackMarks, Size, VerdictBanner, pack_drawing};
use crate::screens::problem::problem;
use crate::store::{Headline, Store, Track, flight_of};

/// What the head is made of.
#[derive(Clone, Copy, PartialEq)]
enum Shape {
    Nothing,
    Fault,
    NoFlight,
    Flies,
}

/// All that the head says, as it is shown.
#[derive(Clone, PartialEq)]
struct Head {
    state: State,
    sentence: String,
    /// Why there is no flight, where there is none.
    no_flight: String,
    land_by: Shown,
    meter: String,
    turn_back: Shown,
    turn_back_at: String,
    flight_time: Shown,
    typical: String,
    is_busy: bool,
    marks: Option<PackMarks>,
    rule: String,
    /// The figures beside the answer, in the order of `FACTS`.
    facts: [String; 6],
}

/// What is looked at while a finger moves, and what explains it.
#[derive(Clone, Copy)]
struct Said {
    now: Memo<Option<Head>>,
    later: RwSignal<Option<Head>>,
}

/// The figures beside the answer: name in `data-figure`, name for people, whether it is looked at while a finger moves.
const FACTS: [(&str, &str, bool); 6] = [
    ("thrust-to-weight", "Thrust-to-weight", true),
    ("thrust-to-weight-at-land-by", "… at land-by", false),
    ("hover-throttle", "Hover throttle", false),
    ("hover-throttle-at-land-by", "… at land-by", false),
    ("all-up-mass", "All-up weight (AUW)", true),
    ("density-altitude", "Density altitude", false),
];

/// The head of what is shown, or why there is none.
pub fn head(store: Store, track: Memo<Track>) -> AnyView {
    let shape = memo(move || shape(track.get()));
    let now = memo(move || said(track.get(), store.units.get()));
    let said = Said { now, later: a_frame_behind(now) };
    let fault = memo(move || fault_of(track.get()));
    live(move || match shape.get() {
        Shape::Nothing => ().into_any(),
        Shape::Fault => live(move || fault.get().map(|fault| problem(store, fault))),
        Shape::NoFlight => view! { {banner(store, said)} {no_flight(said)} {facts(said)} }.into_any(),
        Shape::Flies => view! { {banner(store, said)} {figures(store, said)} {facts(said)} }.into_any(),
    })
}

fn shape(track: Track) -> Shape {
    match (card_of(track), fault_of(track)) {
        (Some(card), _) if flight_of(&card).is_some() => Shape::Flies,
        (Some(_), _) => Shape::NoFlight,
        (None, Some(_)) => Shape::Fault,
        (None, None) => Shape::Nothing,
    }
}

fn said(track: Track, units: Units) -> Option<Head> {
    let card = card_of(track)?;
    let headline = track.headline();
    let judged = judged(track, &card);
    setup_of(track, |setup| said_of(&card, &judged, setup, headline, units))
}

fn said_of(card: &Card, judged: &Judgement, setup: &Setup, headline: Option<Headline>, units: Units) -> Head {
    let charge = |of: fn(Headline) -> Option<ElectricCharge>| match headline.and_then(of) {
        None => not_known(),
        Some(charge) if charge.value <= 0.0 => not_assured(),
        Some(charge) => answer::charge(charge, units),
    };
    let time = headline.and_then(|headline| headline.flight_time);
    let is_assured = time.is_none_or(|time| time.value > 0.0);
    let at = headline.and_then(|headline| headline.turn_back_at);
    let why_not_known = headline.and_then(|headline| headline.why_not_known());
    let flight = flight_of(card);
    Head {
        state: judged.verdict.state,
        sentence: verdict_words(judged, units),
        no_flight: words::outcome(&card.outcome, &setup.policy, units).unwrap_or_default(),
        land_by: charge(|headline| headline.land_by),
        meter: flight.map(|flight| words::meter_place(flight.marks.place)).unwrap_or_default(),
        turn_back: charge(|headline| headline.turn_back),
        turn_back_at: at.map(|at| format!("{} after motor start", answer::time(at))).unwrap_or_default(),
        flight_time: match time {
            None => not_known(),
            Some(_) if !is_assured => not_assured(),
            Some(time) => Shown { number: answer::time(time), unit: "" },
        },
        typical: headline
            .map(|headline| format!("typical {}", answer::time(headline.median_flight_time)))
            .unwrap_or_default(),
        is_busy: !headline.is_some_and(|headline| headline.fresh),
        marks: flight.zip(headline).and_then(|(flight, headline)| marks(flight, headline)),
        rule: match flight {
            _ if !is_assured => "More than one flight in ten would not come home as planned.".to_owned(),
            Some(_) if why_not_known.is_some() => why_not_known.unwrap_or_default().to_owned(),
            Some(flight) => {
                format!("Limited by: {}.", words::flight_limit(flight.limit, &setup.policy, units))
            }
            None => String::new(),
        },
        facts: fact_words(card, units),
    }
}

/// Stands where no cautious figure is known: a bolder one never stands in for it, and words below say why.
fn not_known() -> Shown {
    Shown { number: "not known".to_owned(), unit: "" }
}

/// Stands where more than one flight in ten does not come home: there is no cautious figure to give.
fn not_assured() -> Shown {
    Shown { number: "not assured".to_owned(), unit: "" }
}

/// What stands on the bar, by the meter on board.
fn marks(flight: &Flight, headline: Headline) -> Option<PackMarks> {
    Some(PackMarks {
        turn_back: headline.turn_back?,
        land_by: headline.land_by?,
        ..PackMarks::from(flight.marks)
    })
}

/// The verdict, its worst check and by how much.
fn verdict_words(card: &Judgement, units: Units) -> String {
    let words = verdict(&card.verdict);
    match card.checks.iter().find(|check| Some(check.kind) == card.verdict.worst) {
        Some(worst) => {
            let by_how_much = [value(worst, units), limit(worst, units), margin(worst)];
            let by_how_much =
                by_how_much.into_iter().filter(|words| !words.is_empty()).collect::<Vec<_>>().join(", ");
            format!("{words} {}", words::sentence(&by_how_much))
        }
        None => words,
    }
}

fn fact_words(card: &Card, units: Units) -> [String; 6] {
    let hover = &card.hover;
    let none = || "none".to_owned();
    let thrust = |ratio| answer::thrust_to_weight(ratio, units).to_string();
    let throttle = |share| answer::throttle(share, units).to_string();
    [
        thrust(hover.thrust_to_weight),
        hover.thrust_to_weight_at_land_by.map_or_else(none, thrust),
        hover.throttle.map_or_else(none, throttle),
        hover.throttle_at_land_by.map_or_else(none, throttle),
        answer::mass(card.mass.all_up_mass, units).to_string(),
        answer::density_altitude(card.air.density_altitude, units).to_string(),
    ]
}

/// A text of the head.
fn of(
    said: impl With<Value = Option<Head>> + Send + Sync + 'static,
    read: impl Fn(&Head) -> &str + Send + Sync + 'static,
) -> Text {
    text(move || said.with(|said| said.as_ref().map(|said| read(said).to_owned())).unwrap_or_default())
}

fn banner(store: Store, said: Said) -> AnyView {
    let state = memo(move || said.now.with(|said| said.as_ref().map_or(State::No, |said| said.state)));
    view! { <VerdictBanner state sentence=of(said.now, |said| &said.sentence) of_what_if=flag(move || store.has_what_if()) /> }.into_any()
}

fn no_flight(said: Said) -> AnyView {
    view! {
        <section class="no-flight" role="status">
            <p data-figure="land-by">"No flight"</p>
            <p>{of(said.now, |said| &said.no_flight)}</p>
        </section>
    }
    .into_any()
}

fn figures(store: Store, said: Said) -> AnyView {
    let of_marks = move |words: fn(PackMarks, Units) -> String| {
        text(move || {
            let marks = said.later.with(|said| said.as_ref().and_then(|said| said.marks));
            marks.map(|marks| words(marks, store.units.get())).unwrap_or_default()
        })
    };
    let busy = text(move || said.now.with(|said| said.as_ref().is_none_or(|said| said.is_busy)).to_string());
    view! {
        <section class="hero" aria-busy=busy aria-label="The answer">
            {live_while(move || store.has_what_if(), || view! { <p class="what-if-of"><span class="what-if-tag">"What if"</span> " not the setup as saved"</p> })}
            <Answer figure="land-by" label="Land by" number=of(said.now, |said| &said.land_by.number)
                unit=of(said.now, |said| said.land_by.unit) sub=of(said.later, |said| &said.meter) size=Size::Hero />
            <div class="hero-beside">
                <Answer figure="turn-back" label="Turn back" number=of(said.now, |said| &said.turn_back.number)
                    unit=of(said.now, |said| said.turn_back.unit) sub=of(said.later, |said| &said.turn_back_at) size=Size::Large />
                <Answer figure="flight-time" label="Flight time" number=of(said.now, |said| &said.flight_time.number)
                    unit=of(said.now, |said| said.flight_time.unit) sub=of(said.later, |said| &said.typical) size=Size::Large />
            </div>
            <PackBar drawing=of_marks(pack_drawing) sentence=of_marks(|marks, units| marks.sentence(units)) />
            <p class="quiet">{of(said.later, |said| &said.rule)}</p>
        </section>
    }
    .into_any()
}

fn nth(index: usize) -> impl Fn(&Head) -> &str + Send + Sync + 'static {
    move |said| said.facts.get(index).map_or("", String::as_str)
}

fn facts(said: Said) -> AnyView {
    let fact = |(index, (figure, name, follows_finger)): (usize, (&'static str, &'static str, bool))| {
        let value = if follows_finger { of(said.now, nth(index)) } else { of(said.later, nth(index)) };
        view! { <div><dt>{name}</dt><dd data-figure=figure>{value}</dd></div> }.into_any()
    };
    let rows: Vec<AnyView> = FACTS.into_iter().enumerate().map(fact).collect();
    view! { <dl class="facts">{rows}</dl> }.into_any()
}
