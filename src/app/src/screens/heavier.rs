//! A heavier lens in three touches: open, name the item, choose what becomes of it. The band above says what it comes to.
//! Below stands its mass on a slider with the minutes over it, and so does a mass that is no item.

use leptos::prelude::*;
use liftmargin_document::model::Item;
use liftmargin_document::present::{Choice, Unit};
use liftmargin_document::record::{List, Record};
use liftmargin_document::sweep::{MassOf, SweepAxis, Sweeper};
use liftmargin_document::words::what_if::{by_how_much, mass};
use liftmargin_document::workspace::MassSlider;
use liftmargin_document::workspace::overlay::{self, Becomes};

use super::curve::{curve, minutes_plot};
use super::listing::name_of;
use super::what_if::on_board;
use crate::live::{act, flag, live, memo, text, typed};
use crate::parts::TriedPlot;
use crate::store::{Answer, Store, Sweeping};

/// Named in the place of an item: a mass that is none. No item has it, as ids have no spaces.
const EXTRA: &str = "extra payload";

/// What is on board as a short list; one of them named, what may become of it.
#[component]
pub fn HeavierSheet() -> impl IntoView {
    let store = Store::here();
    let named = RwSignal::new(None::<String>);
    let is_there = move |named: &String| named == EXTRA || on_board(store).contains(named);
    let sheet = move || match named.get().filter(is_there) {
        None => listed(store, named),
        Some(named_it) if named_it == EXTRA => extra(store, named),
        Some(item) => becomes(store, named, item),
    };
    view! {
        <details class="fold heavier" data-sheet="heavier">
            <summary><h2>"Another load: a heavier lens…"</h2></summary>
            {live(sheet)}
        </details>
    }
}

fn listed(store: Store, named: RwSignal<Option<String>>) -> AnyView {
    let row = |item: String| {
        let name = name_of(store, List::Items, &item);
        let weight = text({
            let item = item.clone();
            move || flown_words(store, &item)
        });
        let name_it = act(move || named.set(Some(item.clone())));
        view! { <button type="button" class="heavier-row" on:click=name_it><span>{name}</span> " " <b>{weight}</b></button> }
            .into_any()
    };
    let rows: Vec<AnyView> = on_board(store).into_iter().map(row).collect();
    let name_extra = act(move || named.set(Some(EXTRA.to_owned())));
    view! {
        <div class="heavier-list">
            {rows}
            <button type="button" class="heavier-row" on:click=name_extra><span>"Extra payload"</span></button>
        </div>
    }
    .into_any()
}

/// The mass of what is flown in the place of an item.
fn flown_words(store: Store, item: &str) -> String {
    let units = store.units.get();
    let flown = store.what_if.with(|what_if| overlay::flown(what_if, item));
    let Some(flown) = flown else { return "left on the ground".to_owned() };
    let saved = store.bundle.with(|bundle| Item::find(bundle, &flown).map(|(_, there)| there.mass_kg));
    let changed = store.what_if.with(|what_if| overlay::mass_kg(what_if, &flown));
    changed.or(saved).map(|kg| mass(kg, units)).unwrap_or_default()
}

fn becomes(store: Store, named: RwSignal<Option<String>>, item: String) -> AnyView {
    let name = name_of(store, List::Items, &item);
    let choose = {
        let item = item.clone();
        move |becomes: Becomes, words: String| {
            let (own, set) = (item.clone(), becomes.clone());
            let is_chosen = flag({
                let own = own.clone();
                move || store.what_if.with(|what_if| overlay::becomes(what_if, &own)) == becomes
            });
            let take = act(move || {
                store.what_if.update(|what_if| overlay::set_becomes(what_if, &own, set.clone()));
            });
            let pressed = text(move || is_chosen().to_string());
            view! { <button type="button" class="heavier-row" aria-pressed=pressed on:click=take>{words}</button> }
                .into_any()
        }
    };
    let units = store.units.get();
    let mut rows = store.bundle.with(|bundle| {
        let others = overlay::others_of_its_kind(bundle, &item).into_iter();
        let row = |other: &Item| {
            choose(
                Becomes::Other(other.id.clone()),
                format!("{} \u{b7} {}", other.name, mass(other.mass_kg, units)),
            )
        };
        others.map(row).collect::<Vec<AnyView>>()
    });
    rows.push(choose(Becomes::Left, "Left on the ground".to_owned()));
    rows.push(choose(Becomes::AsSaved, "As saved".to_owned()));
    view! {
        <div class="heavier-list">
            <p class="row"><strong>{format!("Instead of {name}")}</strong>
                <button type="button" on:click=act(move || named.set(None))>"All on board"</button></p>
            {steps(store, item.clone())}
            {rows}
            {live(move || slider_of(store, &item))}
        </div>
    }
    .into_any()
}

/// Heavier and lighter by steps.
fn steps(store: Store, item: String) -> AnyView {
    let pound = store.units.get().get(Choice::Mass) == Unit::Pound;
    let step_kg = if pound { Unit::Pound.to_si(0.25) } else { 0.1 };
    let step = |sign: f64, label: &'static str, words: &'static str| {
        let own = item.clone();
        let take = act(move || {
            store.bundle.with_untracked(|bundle| {
                store.what_if.update(|what_if| overlay::step_mass(bundle, what_if, &own, sign * step_kg));
            });
        });
        view! { <button type="button" aria-label=words on:click=take>{label}</button> }.into_any()
    };
    let buttons = vec![
        step(-1.0, "\u{2212}", "Lighter by a step"),
        step(1.0, "+", "Heavier by a step"),
        step(5.0, "+ 5 steps", "Heavier by five steps"),
    ];
    let own = item.clone();
    let by = text(move || {
        let more = store
            .bundle
            .with(|bundle| store.what_if.with(|what_if| overlay::heavier_kg(bundle, what_if, &own)));
        by_how_much(more, store.units.get())
    });
    view! { <p class="row heavier-steps" role="group" aria-label="Mass in steps"><span role="status">{by}</span>{buttons}</p> }.into_any()
}

/// A mass that is no item.
fn extra(store: Store, named: RwSignal<Option<String>>) -> AnyView {
    let slider = move || {
        let units = store.units.get();
        store.with_setup(|setup| store.bundle.with(|bundle| MassSlider::of_extra(bundle, setup, units)))
    };
    let slider = memo(slider);
    view! {
        <div class="heavier-list">
            <p class="row"><strong>"Extra payload"</strong>
                <button type="button" on:click=act(move || named.set(None))>"All on board"</button></p>
            {live(move || slider.get().map(|slider| slider_view(store, slider, "Extra payload".to_owned())))}
        </div>
    }
    .into_any()
}

/// The slider of what is flown in the place of an item; nothing while it is left on the ground.
fn slider_of(store: Store, item: &str) -> AnyView {
    let own = item.to_owned();
    let slider = memo(move || {
        let units = store.units.get();
        store
            .bundle
            .with(|bundle| store.what_if.with(|what_if| MassSlider::of_item(bundle, what_if, &own, units)))
    });
    let named = move |slider: MassSlider| {
        let name = match &slider.of {
            MassOf::Item(id) => format!("Mass of {}", name_of(store, List::Items, id)),
            MassOf::Extra(_) => String::new(),
        };
        slider_view(store, slider, name)
    };
    live(move || slider.get().map(named))
}

/// A slider with the minutes over it; the curve stays as it is while the slider moves.
fn slider_view(store: Store, slider: MassSlider, label: String) -> AnyView {
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
            <input class="mass-range" type="range" min=low max=high step="1" aria-label=label prop:value=step
                aria-valuetext=text(move || words.get()) on:input=slide />
            {curve(sweeping, || SweepAxis::PayloadMass, draw)}
        </section>
    }
    .into_any()
}
