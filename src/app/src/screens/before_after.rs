//! What the what-if comes to: before, after, the change.

use leptos::prelude::*;
use liftmargin_core::units::Ratio;
use liftmargin_document::measure::Units;
use liftmargin_document::measure::answer::{self, Toward, round_to};
use liftmargin_document::measure::number::write;

use super::card::{card_of, fault_of};
use super::problem::problem;
use crate::live::{live, memo, text};
use crate::parts::Delta;
use crate::store::{Answer, Headline, Store, Track, headline};

/// Minutes, land-by and margin, before and after.
#[component]
pub fn BeforeAfter() -> impl IntoView {
    let store = Store::here();
    let answer = Answer::here();
    let fault = memo(move || fault_of(answer.changed));
    let heroes = memo(move || headline_of(answer.saved).zip(headline_of(answer.changed)));
    let margin = |track| card_of(track).map(|card| card.hover.thrust_to_weight);
    let margins = memo(move || margin(answer.saved).zip(margin(answer.changed)));
    let units = store.units;
    let lines = vec![
        line("flight-time", "Flight time", move || heroes.get().and_then(minutes)),
        line("land-by", "Land by", move || heroes.get().and_then(|heroes| land_by(heroes, units.get()))),
        line("thrust-to-weight", "Thrust-to-weight", move || {
            margins.get().map(|margins| thrust_to_weight(margins, units.get()))
        }),
    ];
    view! {
        {live(move || fault.get().map(|fault| problem(store, fault)))}
        <dl class="deltas">{lines}</dl>
    }
}

/// Before, after, the change; none while they are being computed, or without a flight.
type Line = Option<(String, String, String)>;

fn headline_of(track: Track) -> Option<Headline> {
    card_of(track).and_then(|card| track.cautious.with(|caution| headline(&card, caution)))
}

fn line(
    figure: &'static str,
    label: &'static str,
    line: impl Fn() -> Line + Send + Sync + 'static,
) -> AnyView {
    let line = memo(move || line().unwrap_or_else(|| ("…".to_owned(), "…".to_owned(), String::new())));
    let before = text(move || line.get().0);
    let after = text(move || line.get().1);
    let change = text(move || line.get().2);
    let better = memo(move || line.with(|line| more_is_better(&line.2)));
    view! { <Delta figure label before after change better /> }.into_any()
}

/// More is better, as far as it can be seen after rounding.
fn more_is_better(change: &str) -> Option<bool> {
    match change.chars().next() {
        Some('+') => Some(true),
        Some('\u{2212}') => Some(false),
        _ => None,
    }
}

fn minutes((before, after): (Headline, Headline)) -> Line {
    let (before, after) = before.flight_time.zip(after.flight_time)?;
    Some((answer::time(before), answer::time(after), answer::time_change(before, after)))
}

fn land_by((before, after): (Headline, Headline), units: Units) -> Line {
    let (before, after) = before.land_by.zip(after.land_by)?;
    let shown = |charge| answer::charge(charge, units).to_string();
    Some((shown(before), shown(after), answer::charge_change(before, after, units)))
}

fn thrust_to_weight((before, after): (Ratio, Ratio), units: Units) -> (String, String, String) {
    let shown = |ratio| answer::thrust_to_weight(ratio, units).to_string();
    (shown(before), shown(after), ratio_change(before, after, units))
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
