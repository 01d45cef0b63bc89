//! The answer: land by, turn back, minutes.

use leptos::prelude::*;
use liftmargin_core::card::{Card, Setup};
use liftmargin_core::flight::Flight;
use liftmargin_core::units::ElectricCharge;
use liftmargin_document::measure::answer::{self, Shown};
use liftmargin_document::measure::{Units, words};

use crate::parts::{Answer, PackBar, PackMarks, Size};
use crate::store::{Hero, flight_of};

/// The answer, or why there is no flight.
pub fn large(card: &Card, setup: &Setup, hero: Option<Hero>, units: Units) -> AnyView {
    match flight_of(card).zip(hero) {
        Some((flight, hero)) => figures(flight, setup, hero, units),
        None => no_flight(card, setup, units),
    }
}

/// Why there is no flight, and by how much.
fn no_flight(card: &Card, setup: &Setup, units: Units) -> AnyView {
    view! {
        <section class="no-flight" role="status">
            <p data-figure="land-by">"No flight"</p>
            <p>{words::outcome(&card.outcome, &setup.policy, units)}</p>
        </section>
    }
    .into_any()
}

fn figures(flight: &Flight, setup: &Setup, hero: Hero, units: Units) -> AnyView {
    let charge = |charge: Option<ElectricCharge>| {
        charge.map_or_else(computing, |charge| answer::charge(charge, units))
    };
    let time = hero.flight_time.map_or_else(computing, |time| Shown { number: answer::time(time), unit: "" });
    let turn_back_at = hero.turn_back_at.map(|at| format!("{} after motor start", answer::time(at)));
    let middle = format!("middle {}", answer::time(hero.middle_flight_time));
    let rule = words::flight_limit(flight.limit, &setup.policy, units);
    view! {
        <section class="hero" aria-busy=(!hero.fresh).to_string() aria-label="The answer">
            <Answer figure="land-by" label="Land by" value=charge(hero.land_by)
                sub=words::meter_place(flight.marks.place) size=Size::Hero />
            <div class="hero-beside">
                <Answer figure="turn-back" label="Turn back" value=charge(hero.turn_back)
                    sub=turn_back_at.unwrap_or_default() size=Size::Large />
                <Answer figure="flight-time" label="Flight time" value=time sub=middle size=Size::Large />
            </div>
            {marks(flight, hero).map(|marks| view! { <PackBar marks units /> })}
            <p class="quiet">{format!("What rules: {rule}.")}</p>
        </section>
    }
    .into_any()
}

/// Stands where a cautious figure is being computed: a bolder one never stands in for it.
fn computing() -> Shown {
    Shown { number: "computing…".to_owned(), unit: "" }
}

/// What stands on the bar, by the meter on board.
fn marks(flight: &Flight, hero: Hero) -> Option<PackMarks> {
    Some(PackMarks { turn_back: hero.turn_back?, land_by: hero.land_by?, ..PackMarks::from(flight.marks) })
}
