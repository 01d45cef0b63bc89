//! The meter read off: a keypad of our own, with at most two touches more than there are digits.

#![allow(clippy::large_types_passed_by_value, reason = "handles, copied as a signal is")]

use leptos::prelude::*;
use liftmargin_core::airborne::ReadingDoubt;
use liftmargin_document::airborne::try_reading;
use liftmargin_document::model::Reading;
use liftmargin_document::words::reading_doubt;

use super::state::Air;
use crate::live::{act, live, live_while, text};
use crate::platform::page;

/// What is being typed.
#[derive(Clone, Copy)]
struct Entry {
    open: RwSignal<bool>,
    digits: RwSignal<String>,
    /// The charge, once volts are typed.
    charge: RwSignal<Option<String>>,
    /// When the first digit was typed: the meter was looked at then.
    time_s: RwSignal<Option<f64>>,
    doubt: RwSignal<Option<(Reading, ReadingDoubt)>>,
}

/// The part of the screen; `open` says whether it is being typed on.
pub fn keypad(air: Air, open: RwSignal<bool>) -> AnyView {
    let entry = Entry {
        open,
        digits: RwSignal::new(String::new()),
        charge: RwSignal::new(None),
        time_s: RwSignal::new(None),
        doubt: RwSignal::new(None),
    };
    let last = move || {
        let last =
            air.flight.with(|flight| flight.as_ref().and_then(|flight| flight.readings.last().cloned()));
        last.map(|last| {
            let mah = last.used_mah.map(|mah| format!("{mah:.0} mAh")).unwrap_or_default();
            let volts = last.voltage_v.map(|volts| format!(" {volts:.1} V")).unwrap_or_default();
            let take_back = act(move || air.change("the last reading", |flight| drop(flight.readings.pop())));
            view! {
                <p class="row">
                    <span>{format!("Last reading {mah}{volts}")}</span>
                    <button type="button" class="button-plain" on:click=take_back>"Take it back"</button>
                </p>
            }
        })
    };
    view! {
        <section class="reading">
            {live_while(move || !entry.open.get(), move || view! {
                <button type="button" class="button-strong" on:click=act(move || entry.open.set(true))>"Read the meter"</button>
                {live(last)}
            })}
            {live_while(move || entry.open.get(), move || pad(air, entry))}
        </section>
    }
    .into_any()
}

fn pad(air: Air, entry: Entry) -> AnyView {
    let key = move |key: &'static str| {
        let press = act(move || {
            if entry.time_s.get_untracked().is_none() {
                entry.time_s.set(Some(air.elapsed_s()));
            }
            entry.doubt.set(None);
            entry.digits.update(|digits| {
                if digits.len() < 6 && !(key == "." && digits.contains('.')) {
                    digits.push_str(key);
                }
            });
        });
        view! { <button type="button" on:click=press>{key}</button> }.into_any()
    };
    let keys: Vec<AnyView> =
        ["1", "2", "3", "4", "5", "6", "7", "8", "9", ".", "0"].into_iter().map(key).collect();
    let rub = act(move || {
        entry.doubt.set(None);
        entry.digits.update(|digits| {
            let _ = digits.pop();
        });
    });
    let shown = text(move || {
        let (digits, charge) = (entry.digits.get(), entry.charge.get());
        match charge {
            Some(charge) => format!("{charge} mAh, {digits} V"),
            None => format!("{digits} mAh"),
        }
    });
    let volts = move || {
        let typed = entry.digits.get_untracked();
        entry.charge.set(Some(typed));
        entry.digits.set(String::new());
    };
    view! {
        <output class="reading-typed" data-figure="airborne-typed">{shown}</output>
        {live(move || entry.doubt.get().map(|(reading, doubt)| asked_again(air, entry, reading, doubt)))}
        <div class="keypad">
            {keys}
            <button type="button" aria-label="Rub out the last digit" on:click=rub>"⌫"</button>
        </div>
        <p class="row">
            <button type="button" class="button-strong" on:click=act(move || take(air, entry))>"Take"</button>
            {live_while(move || entry.charge.with(Option::is_none), move || view! {
                <button type="button" on:click=act(volts)>"Volts too"</button>
            })}
            <button type="button" class="button-plain" on:click=act(move || close(entry))>"Cancel"</button>
        </p>
    }
    .into_any()
}

fn close(entry: Entry) {
    entry.open.set(false);
    entry.digits.set(String::new());
    entry.charge.set(None);
    entry.time_s.set(None);
    entry.doubt.set(None);
}

fn take(air: Air, entry: Entry) {
    let number = |text: &str| text.parse::<f64>().ok();
    let (digits, charge) = (entry.digits.get_untracked(), entry.charge.get_untracked());
    let (used_mah, voltage_v) = match charge {
        Some(charge) => (number(&charge), number(&digits)),
        None => (number(&digits), None),
    };
    if used_mah.is_none() && voltage_v.is_none() {
        return;
    }
    let time_s = entry.time_s.get_untracked().unwrap_or_else(|| air.elapsed_s());
    offer(air, entry, Reading { time_s, used_mah, voltage_v, ..Reading::default() });
}

/// Why a reading is to be asked back; none where it can be taken.
pub(super) fn doubted(air: Air, reading: &Reading) -> Option<ReadingDoubt> {
    let flight = air.flight.get_untracked();
    air.planned.with_value(|planned| try_reading(&planned.as_ref()?.plan, flight.as_ref()?, reading).err())
}

/// Takes a reading, or asks it back.
fn offer(air: Air, entry: Entry, reading: Reading) {
    if let Some(doubt) = doubted(air, &reading) {
        entry.doubt.set(Some((reading, doubt)));
    } else {
        air.change("the reading", move |flight| flight.readings.push(reading));
        close(entry);
        // What it comes to stands above the keypad.
        page::to_top();
    }
}

fn asked_again(air: Air, entry: Entry, reading: Reading, doubt: ReadingDoubt) -> AnyView {
    let correct = move || {
        entry.doubt.set(None);
        entry.digits.set(String::new());
        entry.charge.set(None);
    };
    asked_back(&doubt, correct, move || offer(air, entry, Reading { confirmed: true, ..reading.clone() }))
}

/// Why a reading is asked back, and what can be done.
pub(super) fn asked_back(
    doubt: &ReadingDoubt,
    correct: impl Fn() + Send + Sync + 'static,
    stand_by: impl Fn() + Send + Sync + 'static,
) -> AnyView {
    let (correct, stand_by) = (act(correct), act(stand_by));
    let label = if matches!(doubt, ReadingDoubt::LowerThanLast { .. }) {
        "The meter was reset"
    } else {
        "It is right"
    };
    let confirm = doubt
        .may_be_confirmed()
        .then(|| view! { <button type="button" on:click=stand_by>{label}</button> }.into_any());
    view! {
        <div class="asked-back" role="alert" data-doubt=doubt.key()>
            <p>{reading_doubt(doubt)}</p>
            <p class="row">
                <button type="button" class="button-strong" on:click=correct>"Type it again"</button>
                {confirm}
            </p>
        </div>
    }
    .into_any()
}
