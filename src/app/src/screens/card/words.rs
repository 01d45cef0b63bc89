//! What the answer rests on, and who decides.

use leptos::prelude::*;
use liftmargin_core::card::Setup;
use liftmargin_core::spread::Input;
use liftmargin_core::units::Ratio;
use liftmargin_document::words;

use super::setup_of;
use crate::live::live;
use crate::parts::{RankedBar, RankedBars};
use crate::store::{Answer, Store, Track};

/// What the answer rests on.
#[component]
pub fn Assumptions(track: Track) -> impl IntoView {
    let store = Store::here();
    let answer = Answer::here();
    let rests_on = move || {
        let evidence = answer.airframe.with(|airframe| match airframe {
            Some(Ok(airframe)) => words::evidence(&airframe.airframe.unit.evidence, store.units.get()),
            _ => String::new(),
        });
        let words = [
            "The large figures are cautious: one flight in ten is shorter.".to_owned(),
            evidence,
            setup_of(track, packs_at_start).unwrap_or_default(),
            "Weather as entered on Site, the same for the whole flight; wind at the set's height by a power law."
                .to_owned(),
            "One go-around is kept in hand before land-by.".to_owned(),
        ];
        let said = words.into_iter().filter(|words| !words.is_empty());
        said.map(|words| view! { <li>{words}</li> }.into_any()).collect::<Vec<AnyView>>()
    };
    view! {
        <section class="assumptions">
            <h2>"What this rests on"</h2>
            <ul>{live(rests_on)}</ul>
            {live(move || doubt(track))}
        </section>
    }
}

/// Where the doubt in flight time comes from, largest first; once the fingers rest.
fn doubt(track: Track) -> Option<AnyView> {
    track.settled.get()?;
    let last = untrack(|| track.last_cautious()).0?;
    let most = last.contributions.first()?.1.value;
    let bar = |(input, share): &(Input, Ratio)| RankedBar {
        label: input_name(*input).to_owned(),
        share: share.value / most,
        value: format!("{:.0}\u{a0}%", share.value * 100.0),
    };
    let bars = last.contributions.iter().map(bar).collect();
    let title = "Where the doubt in flight time comes from".to_owned();
    Some(view! { <div data-figure="doubt"><RankedBars title bars /></div> }.into_any())
}

fn packs_at_start(setup: &Setup) -> String {
    let mut packs = setup.supply.strings.iter().flat_map(|string| &string.packs);
    let full = packs.all(|pack| pack.rest_voltage.is_none());
    if full { "Packs taken as fully charged." } else { "Packs start at the rest voltage entered." }.to_owned()
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
