//! The answer: land by, turn back, minutes.

use leptos::prelude::*;
use liftmargin_core::units::ElectricCharge;
use liftmargin_document::measure::answer::{self, Shown};
use liftmargin_document::measure::words;

use super::{card_of, setup_of};
use crate::parts::{Answer, PackBar, PackMarks, Size};
use crate::store::{Hero, Store, Track, flight_of, hero};

/// The answer, or why there is no flight.
#[component]
pub fn Large(track: Track) -> impl IntoView {
    let flies = Memo::new(move |_| card_of(track).is_some_and(|card| flight_of(&card).is_some()));
    move || {
        if flies.get() {
            view! { <Figures track /> }.into_any()
        } else {
            view! { <NoFlight track /> }.into_any()
        }
    }
}

/// Why there is no flight, and by how much.
#[component]
fn NoFlight(track: Track) -> impl IntoView {
    let store = Store::here();
    move || {
        let card = card_of(track)?;
        let units = store.units.get();
        let words = setup_of(track, |setup| words::outcome(&card.outcome, &setup.policy, units)).flatten();
        Some(view! {
            <section class="no-flight" role="status">
                <p data-figure="land-by">"No flight"</p>
                <p>{words}</p>
            </section>
        })
    }
}

#[component]
fn Figures(track: Track) -> impl IntoView {
    let store = Store::here();
    let hero = Memo::new(move |_| {
        card_of(track).and_then(|card| track.cautious.with(|caution| hero(&card, caution)))
    });
    let charge = move |of: fn(Hero) -> Option<ElectricCharge>| {
        Signal::derive(move || {
            hero.get().and_then(of).map_or_else(computing, |charge| answer::charge(charge, store.units.get()))
        })
    };
    let minutes = Signal::derive(move || {
        let time = hero.get().and_then(|hero| hero.flight_time);
        time.map_or_else(computing, |time| Shown { number: answer::time(time), unit: "" })
    });
    let meter = Signal::derive(move || {
        let card = card_of(track);
        let place = card.and_then(|card| flight_of(&card).map(|flight| flight.marks.place));
        place.map(words::meter_place).unwrap_or_default()
    });
    let turn_back_at = Signal::derive(move || {
        let at = hero.get().and_then(|hero| hero.turn_back_at);
        at.map(|at| format!("{} after motor start", answer::time(at))).unwrap_or_default()
    });
    let middle = Signal::derive(move || {
        hero.get().map(|hero| format!("middle {}", answer::time(hero.middle_flight_time))).unwrap_or_default()
    });
    let busy = move || (!hero.get().is_some_and(|hero| hero.fresh)).to_string();
    view! {
        <section class="hero" aria-busy=busy aria-label="The answer">
            <Answer figure="land-by" label="Land by" value=charge(|hero| hero.land_by) sub=meter size=Size::Hero />
            <div class="hero-beside">
                <Answer figure="turn-back" label="Turn back" value=charge(|hero| hero.turn_back) sub=turn_back_at size=Size::Large />
                <Answer figure="flight-time" label="Flight time" value=minutes sub=middle size=Size::Large />
            </div>
            <PackBar marks=Signal::derive(move || marks(track, hero.get())) units=store.units />
            <Rule track />
        </section>
    }
}

/// Stands where a cautious figure is being computed: a bolder one never stands in for it.
fn computing() -> Shown {
    Shown { number: "computing…".to_owned(), unit: "" }
}

/// What stands on the bar, by the meter on board.
fn marks(track: Track, hero: Option<Hero>) -> Option<PackMarks> {
    let card = card_of(track)?;
    let (flight, hero) = (flight_of(&card)?, hero?);
    Some(PackMarks { turn_back: hero.turn_back?, land_by: hero.land_by?, ..PackMarks::from(flight.marks) })
}

/// Which limit rules.
#[component]
fn Rule(track: Track) -> impl IntoView {
    let store = Store::here();
    move || {
        let card = card_of(track)?;
        let flight = flight_of(&card)?;
        let rule =
            setup_of(track, |setup| words::flight_limit(flight.limit, &setup.policy, store.units.get()))?;
        Some(view! { <p class="quiet">"What rules: " {rule} "."</p> })
    }
}
