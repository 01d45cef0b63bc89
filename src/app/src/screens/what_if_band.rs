//! The band of a what-if: nobody may take its figures for those of the saved setup, on whatever screen.

use leptos::prelude::*;
use liftmargin_document::present::{BeforeAfter as Change, Standing, Units, Way};
use liftmargin_document::words::what_if::differs;

use super::card::{fault_of, standing_of};
use super::listing::fault_view;
use super::problem::problem;
use crate::live::{a_frame_later, act, live, live_later, live_while, memo, text};
use crate::parts::Delta;
use crate::store::{Answer, Store};

/// The band, while a what-if is on.
#[component]
pub fn WhatIfBand() -> impl IntoView {
    let store = Store::here();
    live_while(move || store.has_what_if(), band)
}

fn band() -> AnyView {
    let store = Store::here();
    let answer = Answer::here();
    let words = text(move || {
        let units = store.units.get();
        store.what_if.with(|what_if| store.bundle.with(|bundle| differs(bundle, what_if, units)))
    });
    let fault = memo(move || fault_of(answer.changed));
    view! {
        <section class="what-if-band" data-band="what-if" aria-label="What if">
            <p class="what-if-words" role="status"><strong class="what-if-tag">"What if"</strong> " " {words} " \u{b7} not saved"</p>
            {live(move || fault.get().map(|fault| problem(store, fault)))}
            {live_later(|| view! { <BeforeAfter /> <Endings /> })}
        </section>
    }
    .into_any()
}

/// Minutes, land-by and margins, before and after.
#[component]
fn BeforeAfter() -> impl IntoView {
    let answer = Answer::here();
    let units = Store::here().units;
    let was = memo(move || standing_of(answer.saved));
    // The large figures are under the finger; what they were before stands in no hurry.
    let follows = move || {
        answer.saved.follow();
        answer.changed.follow();
    };
    let both = a_frame_later(follows, move || was.get().zip(standing_of(answer.changed)));
    let line = move |figure, label, of: fn(&Standing, &Standing, Units) -> Change| {
        line(figure, label, move || both.with(|both| both.as_ref().map(|(was, is)| of(was, is, units.get()))))
    };
    let lines = vec![
        line("flight-time", "Flight time", |was, is, _| Standing::minutes(was, is)),
        line("land-by", "Land by", Standing::landing),
        line("thrust-to-weight", "Thrust-to-weight", |was, is, units| {
            Change::thrust_to_weight(was.thrust_to_weight, is.thrust_to_weight, units)
        }),
        line("tightest-margin", "Tightest margin", |was, is, _| Standing::margins(was, is)),
    ];
    view! { <dl class="deltas">{lines}</dl> }
}

fn line(
    figure: &'static str,
    label: &'static str,
    line: impl Fn() -> Option<Change> + Send + Sync + 'static,
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

#[component]
fn Endings() -> impl IntoView {
    let store = Store::here();
    let fault = RwSignal::new(None::<String>);
    let keep = act(move || fault.set(store.keep_what_if().err().map(|fault| fault.to_string())));
    let change = act(move || fault.set(store.take_over_what_if().err().map(|fault| fault.to_string())));
    view! {
        <p class="row">
            <button type="button" on:click=keep>"Keep as new setup"</button>
            <button type="button" on:click=change>"Change this setup"</button>
            <button type="button" on:click=act(move || store.reset_what_if())>"Discard"</button>
        </p>
        {live(move || fault.get().map(fault_view))}
    }
}
