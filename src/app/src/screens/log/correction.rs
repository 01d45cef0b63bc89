//! What the flights teach of each airframe: on or off, fading or not, begun anew; odd flights with the reason.

use leptos::prelude::*;
use liftmargin_document::log::{AirframeLog, learn, relearn, set_correction};
use liftmargin_document::model::{Airframe, Learned};
use liftmargin_document::record::{List, Record};
use liftmargin_document::words::{corrected_by, sentence};

use crate::live::{act, flag, live, live_each, memo, text};
use crate::parts::{ChoiceField, Choices, SwitchRow};
use crate::platform::clock;
use crate::store::Store;

/// A part for each airframe that has flights.
pub fn corrections(store: Store) -> AnyView {
    let ids = move || {
        store.bundle.with(|bundle| {
            let flown = |id: &String| {
                bundle.flights.iter().any(|flight| flight.airframe == *id && flight.aloft.is_none())
            };
            List::Airframes.names(bundle).into_iter().map(|(id, _)| id).filter(flown).collect()
        })
    };
    live_each(ids, move |id| correction(store, id))
}

fn learned(store: Store, id: &str) -> Option<Learned> {
    store
        .bundle
        .with(|bundle| Airframe::find(bundle, id).and_then(|(_, airframe)| airframe.correction.clone()))
}

/// "Corrected by 4 flights: +6 % power (±3 %)", and how far a card may use it.
pub fn words(learned: &Learned) -> String {
    let said = corrected_by(learned.flights, learned.factor, learned.spread);
    let assured = 100.0 * (learned.assured_factor - 1.0);
    if learned.assured_factor > learned.factor + 5e-3 {
        format!(
            "{said}; counted with {}{:.0} %, as far as the flights assure it",
            if assured < 0.0 { "\u{2212}" } else { "" },
            assured.abs().floor()
        )
    } else {
        said
    }
}

fn correction(store: Store, id: String) -> AnyView {
    let own = id.clone();
    let known = memo(move || learned(store, &own));
    let own = id.clone();
    let name = text(move || List::Airframes.name(&store.bundle.get(), &own).unwrap_or_default());
    let said = text(move || {
        known.with(|known| {
            known
                .as_ref()
                .filter(|known| known.flights > 0)
                .map_or_else(|| "Nothing learned yet.".to_owned(), |known| sentence(&words(known)))
        })
    });
    let put = move |on: bool, fading_days: Option<f64>, own: &str| {
        let id = own.to_owned();
        store.edit_alone(
            "the correction",
            Box::new(move |bundle| *bundle = set_correction(bundle, &id, on, fading_days, clock::now_ms())),
        );
    };
    let own = id.clone();
    let switch = Callback::new(move |on: bool| {
        put(on, known.with_untracked(|known| known.as_ref().and_then(|known| known.fading_days)), &own);
    });
    let own = id.clone();
    let fade = Callback::new(move |days: String| {
        put(
            known.with_untracked(|known| known.as_ref().is_some_and(|known| known.on)),
            days.parse().ok(),
            &own,
        );
    });
    let own = id.clone();
    let anew = act(move || begin_anew(store, &own));
    let fading = [("", "all count alike"), ("30", "half after 30 days"), ("90", "half after 90 days")];
    let fading =
        move || -> Choices { fading.map(|(key, words)| (key.to_owned(), words.to_owned())).to_vec() };
    let log = memo(move || store.bundle.with(|bundle| learn(bundle, &id, clock::now_ms(), false).ok()));
    view! {
        <section>
            <h2>"Learned of " {name}</h2>
            <p data-figure="correction">{said}</p>
            <SwitchRow label=text(|| "Cards use it".to_owned()) sub=text(String::new)
                on=flag(move || known.with(|known| known.as_ref().is_some_and(|known| known.on))) on_change=switch />
            <ChoiceField label="Old flights" options=Box::new(fading) on_change=fade
                value=text(move || known.with(|known| known.as_ref().and_then(|known| known.fading_days).map(|days| format!("{days:.0}")).unwrap_or_default())) />
            {live(move || log.with(|log| log.as_ref().map(odd)))}
            <p class="row"><button type="button" on:click=anew>"Begin anew from now on"</button></p>
        </section>
    }
    .into_any()
}

fn begin_anew(store: Store, airframe: &str) {
    let id = airframe.to_owned();
    store.edit_alone(
        "beginning the correction anew",
        Box::new(move |bundle| {
            let now = clock::now_ms();
            if let Some(airframe) = Airframe::find_mut(bundle, &id) {
                airframe.correction.get_or_insert_default().since_unix_ms = Some(now);
            }
            if let Ok(learned) = relearn(bundle, &id, now) {
                *bundle = learned;
            }
        }),
    );
}

fn odd(log: &AirframeLog) -> AnyView {
    let line = |name: &str, reason: &str| view! { <li>{format!("{name}: {reason}")}</li> }.into_any();
    let odd: Vec<AnyView> = log.odd.iter().map(|one| line(&one.name, &one.reason)).collect();
    let left_out: Vec<AnyView> = log.left_out.iter().map(|one| line(&one.name, &one.reason)).collect();
    let list = |title: &'static str, lines: Vec<AnyView>| {
        (!lines.is_empty()).then(|| view! { <h3>{title}</h3> <ul>{lines}</ul> })
    };
    view! { {list("Odd flights", odd)} {list("Not counted", left_out)} }.into_any()
}
