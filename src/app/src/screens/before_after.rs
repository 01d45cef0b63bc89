//! What the what-if comes to: before, after, the change.

use leptos::prelude::*;
use liftmargin_document::present::{BeforeAfter as Change, Units, Way};

use super::card::{card_of, fault_of};
use super::problem::problem;
use crate::live::{live, memo, text};
use crate::parts::Delta;
use crate::store::{Answer, Headline, Store};

/// Minutes, land-by and margin, before and after.
#[component]
pub fn BeforeAfter() -> impl IntoView {
    let store = Store::here();
    let answer = Answer::here();
    let fault = memo(move || fault_of(answer.changed));
    let heroes = memo(move || answer.saved.sampled_headline().zip(answer.changed.sampled_headline()));
    let margin = |track| card_of(track).map(|card| card.hover.thrust_to_weight);
    let margins = memo(move || margin(answer.saved).zip(margin(answer.changed)));
    let units = store.units;
    let lines = vec![
        line("flight-time", "Flight time", move || heroes.get().and_then(minutes)),
        line("land-by", "Land by", move || heroes.get().and_then(|heroes| land_by(heroes, units.get()))),
        line("thrust-to-weight", "Thrust-to-weight", move || {
            margins.get().map(|(before, after)| Change::thrust_to_weight(before, after, units.get()))
        }),
    ];
    view! {
        {live(move || fault.get().map(|fault| problem(store, fault)))}
        <dl class="deltas">{lines}</dl>
    }
}

/// None while a figure is being computed, or without a flight.
type Line = Option<Change>;

fn line(
    figure: &'static str,
    label: &'static str,
    line: impl Fn() -> Line + Send + Sync + 'static,
) -> AnyView {
    let line = memo(line);
    let of = move |read: fn(&Change) -> &str, none: &'static str| {
        text(move || line.with(|line| line.as_ref().map_or(none, read).to_owned()))
    };
    let (before, after) = (of(|line| &line.before, "…"), of(|line| &line.after, "…"));
    let change = of(|line| &line.change, "");
    let way = memo(move || line.with(|line| line.as_ref().map_or(Way::Same, |line| line.way)));
    view! { <Delta figure label before after change way /> }.into_any()
}

fn minutes((before, after): (Headline, Headline)) -> Line {
    let (before, after) = before.flight_time.zip(after.flight_time)?;
    Some(Change::time(before, after))
}

fn land_by((before, after): (Headline, Headline), units: Units) -> Line {
    let (before, after) = before.land_by.zip(after.land_by)?;
    Some(Change::charge(before, after, units))
}
