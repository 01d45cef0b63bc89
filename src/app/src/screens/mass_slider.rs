//! The mass of one thing on a slider, with the minutes over it: a what-if like the others.

use leptos::prelude::*;
use liftmargin_document::present::{Choice, Standing};
use liftmargin_document::record::List;
use liftmargin_document::sweep::{MassOf, SweepAxis, Sweeper};
use liftmargin_document::workspace::MassSlider;

use super::card::{card_of, judged};
use super::curve::{curve, minutes_plot};
use super::heavier::EXTRA;
use super::listing::name_of;
use crate::live::{Text, live, live_while, memo, text, typed};
use crate::parts::TriedPlot;
use crate::store::{Answer, Store, Sweeping};

/// The slider of what is named: an item on board, or a mass that is none. Nothing while the item is left on the ground.
pub fn mass_slider(named: RwSignal<Option<String>>) -> AnyView {
    let store = Store::here();
    let slider = memo(move || {
        let (named, units) = (named.get()?, store.units.get());
        if named == EXTRA {
            return store
                .with_setup(|setup| store.bundle.with(|bundle| MassSlider::of_extra(bundle, setup, units)));
        }
        store
            .bundle
            .with(|bundle| store.what_if.with(|what_if| MassSlider::of_item(bundle, what_if, &named, units)))
    });
    live(move || slider.get().map(|slider| slider_view(store, slider)))
}

/// What is tried comes to, at once: while samples are flown the first cautious figures stand in, as on the card.
fn answered(store: Store, words: fn(&Standing, Store) -> String) -> Text {
    let answer = Answer::here();
    text(move || {
        let track = answer.shown(store);
        let standing =
            card_of(track).map(|card| Standing::new(&card, &judged(track, &card), track.headline()));
        standing.map_or_else(|| "none".to_owned(), |is| words(&is, store))
    })
}

/// A slider with the minutes over it; the curve stays as it is while the slider moves.
fn slider_view(store: Store, slider: MassSlider) -> AnyView {
    let label = match &slider.of {
        MassOf::Item(id) => format!("Mass of {}", untrack(|| name_of(store, List::Items, id))),
        MassOf::Extra(_) => "Mass of extra payload".to_owned(),
    };
    let answer = Answer::here();
    let sweeping = Sweeping::new();
    let own = slider.clone();
    let others = memo(move || store.what_if.with(|what_if| own.of.others(what_if)));
    let own = slider.clone();
    Effect::new(move || {
        let (others, id) = (others.get(), store.open.get());
        if let Some(Ok(learned)) = answer.airframe.get() {
            let (of, top_kg) = (own.of.clone(), own.top_kg());
            sweeping.start(
                store.bundle.with(|bundle| Sweeper::over_mass(bundle, &id, &learned, &others, of, top_kg)),
            );
        }
    });
    let own = slider.clone();
    let words = memo(move || store.what_if.with(|what_if| own.words(what_if, store.units.get())));
    let own = slider.clone();
    let step = text(move || store.what_if.with(|what_if| own.step(what_if)).to_string());
    let own = slider.clone();
    let slide = typed(move |value| {
        if let Ok(step) = value.parse() {
            store.what_if.update(|what_if| own.put(what_if, step));
        }
    });
    let (low, high) = (slider.low.to_string(), slider.high.to_string());
    let tried = memo(move || {
        let unit = store.units.get().get(Choice::Mass);
        unit.from_si(store.what_if.with(|what_if| slider.tried_kg(what_if)))
    });
    let draw = move |sweep| {
        let plot = minutes_plot(&sweep, store.units.get());
        view! { <TriedPlot plot tried /> }.into_any()
    };
    view! {
        <section class="mass-slider" data-panel="mass-slider">
            <p class="row"><span>{label.clone()}</span> <b data-figure="tried-mass">{text(move || words.get())}</b></p>
            <p class="mass-answer">
                {live_while(move || store.has_what_if(), || view! { <span class="what-if-tag">"What if"</span> " " })}
                <span>"Flight time "<b data-figure="tried-flight-time">{answered(store, |is, _| is.flight_time_words())}</b></span>
                " "
                <span>"Land by "<b data-figure="tried-land-by">{answered(store, |is, store| is.land_by_words(store.units.get()))}</b></span>
            </p>
            <input class="mass-range" type="range" min=low max=high step="1" aria-label=label prop:value=step
                aria-valuetext=text(move || words.get()) on:input=slide />
            {curve(sweeping, || SweepAxis::PayloadMass, draw)}
        </section>
    }
    .into_any()
}
