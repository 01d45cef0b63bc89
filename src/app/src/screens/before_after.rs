//! What the what-if comes to: before, after, the change.

use leptos::prelude::*;
use liftmargin_core::units::Ratio;
use liftmargin_document::measure::Units;
use liftmargin_document::measure::answer::{self, Toward, round_to};
use liftmargin_document::measure::number::write;

use super::card::card_of;
use super::problem::Problem;
use crate::parts::Delta;
use crate::store::{Answer, Hero, Store, Track, hero};

/// Minutes, land-by and margin, before and after.
#[component]
pub fn BeforeAfter() -> impl IntoView {
    let answer = Answer::here();
    let fault = Memo::new(move |_| {
        answer.changed.card.with(|card| card.as_ref().and_then(|card| card.as_ref().err().cloned()))
    });
    view! {
        {move || fault.get().map(|fault| view! { <Problem fault /> })}
        <dl class="deltas">
            <Minutes answer />
            <LandBy answer />
            <Margin answer />
        </dl>
    }
}

fn hero_of(track: Track) -> Option<Hero> {
    card_of(track).and_then(|card| track.cautious.with(|caution| hero(&card, caution)))
}

/// Before, after, the change, and whether it is for the better.
type Line = Option<(String, String, String, Option<bool>)>;

/// One line; figures that are none are being computed, or there is no flight.
fn line(
    figure: &'static str,
    label: &'static str,
    line: impl Fn() -> Line + Send + Sync + 'static,
) -> impl IntoView {
    let line = Memo::new(move |_| line());
    let dots = || "…".to_owned();
    let before = Signal::derive(move || line.get().map_or_else(dots, |line| line.0));
    let after = Signal::derive(move || line.get().map_or_else(dots, |line| line.1));
    let change = Signal::derive(move || line.get().map(|line| line.2).unwrap_or_default());
    let better = Signal::derive(move || line.get().and_then(|line| line.3));
    view! { <Delta figure label before after change better /> }
}

/// More is better, as far as it can be seen after rounding.
fn more_is_better(change: &str) -> Option<bool> {
    match change.chars().next() {
        Some('+') => Some(true),
        Some('\u{2212}') => Some(false),
        _ => None,
    }
}

#[component]
fn Minutes(answer: Answer) -> impl IntoView {
    let of = |hero: Option<Hero>| hero.and_then(|hero| hero.flight_time);
    line("flight-time", "Flight time", move || {
        let (before, after) = of(hero_of(answer.saved)).zip(of(hero_of(answer.changed)))?;
        let change = answer::time_change(before, after);
        let better = more_is_better(&change);
        Some((answer::time(before), answer::time(after), change, better))
    })
}

#[component]
fn LandBy(answer: Answer) -> impl IntoView {
    let store = Store::here();
    let of = |hero: Option<Hero>| hero.and_then(|hero| hero.land_by);
    line("land-by", "Land by", move || {
        let units = store.units.get();
        let (before, after) = of(hero_of(answer.saved)).zip(of(hero_of(answer.changed)))?;
        let shown = |charge| answer::charge(charge, units).to_string();
        let change = answer::charge_change(before, after, units);
        let better = more_is_better(&change);
        Some((shown(before), shown(after), change, better))
    })
}

#[component]
fn Margin(answer: Answer) -> impl IntoView {
    let store = Store::here();
    let of = |track| card_of(track).map(|card| card.hover.thrust_to_weight);
    line("thrust-to-weight", "Thrust-to-weight", move || {
        let units = store.units.get();
        let (before, after) = of(answer.saved).zip(of(answer.changed))?;
        let shown = |ratio| answer::thrust_to_weight(ratio, units).to_string();
        let change = ratio_change(before, after, units);
        let better = more_is_better(&change);
        Some((shown(before), shown(after), change, better))
    })
}

/// After less before: the difference of the two shown figures, so that a reader can check it.
fn ratio_change(before: Ratio, after: Ratio, units: Units) -> String {
    const STEP: f64 = 0.1;
    let shown = |ratio: Ratio| round_to(ratio.value, STEP, Toward::Down);
    let change = shown(after) - shown(before);
    let sign = if change >= STEP / 2.0 { "+" } else { "" };
    if change.abs() < STEP / 2.0 {
        "no change".to_owned()
    } else {
        format!("{sign}{}", write(change, 1, units.decimal_mark()))
    }
}
