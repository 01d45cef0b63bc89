//! What the answer rests on, and who decides.

use leptos::prelude::*;
use liftmargin_core::spread::Input;
use liftmargin_document::measure::words;

use super::setup_of;
use crate::store::{Answer, Store, Track};

/// What the answer rests on.
#[component]
pub fn Assumptions(track: Track) -> impl IntoView {
    let store = Store::here();
    let answer = Answer::here();
    let evidence = move || match answer.airframe.get() {
        Some(Ok(airframe)) => words::evidence(&airframe.airframe.unit.evidence, store.units.get()),
        _ => String::new(),
    };
    let doubt = move || {
        let caution = track.cautious.get();
        let last = caution.last?;
        let ranked = last
            .contributions
            .iter()
            .take(3)
            .map(|(input, share)| format!("{} {:.0}\u{a0}%", input_name(*input), share.value * 100.0));
        Some(format!("The doubt comes from: {}.", ranked.collect::<Vec<_>>().join(", ")))
    };
    let full = move || {
        setup_of(track, |setup| {
            let full = setup
                .supply
                .strings
                .iter()
                .flat_map(|string| &string.packs)
                .all(|pack| pack.rest_voltage.is_none());
            if full { "Packs taken as fully charged." } else { "Packs start at the rest voltage entered." }
        })
    };
    view! {
        <section class="assumptions">
            <h2>"What this rests on"</h2>
            <ul>
                <li>"The large figures are cautious: one flight in ten is shorter."</li>
                <li>{doubt}</li>
                <li>{evidence}</li>
                <li>{full}</li>
                <li>"Weather as entered on Site, the same for the whole flight; wind at the set's height by a power law."</li>
                <li>"One go-around is kept in hand before land-by."</li>
            </ul>
        </section>
    }
}

const fn input_name(input: Input) -> &'static str {
    match input {
        Input::Mass => "mass",
        Input::Power => "power",
        Input::Capacity => "capacity",
        Input::Resistance => "pack resistance",
        Input::Wind => "wind",
        Input::Temperature => "temperature",
    }
}

/// Who decides.
#[component]
pub fn SafetyWords() -> impl IntoView {
    view! {
        <section class="safety">
            <h2>"You decide"</h2>
            <p>
                "This tool advises; the pilot in command decides. The limits of the aircraft's and the packs' makers, local aviation rules and the crew's licences come first. Compare with the meter in flight and land early when in doubt."
            </p>
            <p>
                "Lithium packs: never join strings of different voltage in parallel, do not fly cold, swollen or damaged packs, do not charge unattended, follow the transport rules."
            </p>
        </section>
    }
}
