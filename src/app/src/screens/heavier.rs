//! A heavier lens in three touches: open, name the item, choose what becomes of it. The band above says what it comes to.
//! Below stands its mass on a slider with the minutes over it, and so does a mass that is no item.

use leptos::prelude::*;
use liftmargin_document::model::Item;
use liftmargin_document::present::{Choice, Unit};
use liftmargin_document::record::{List, Record};
use liftmargin_document::whatif::WhatIf;
use liftmargin_document::words::what_if::{by_how_much, mass};
use liftmargin_document::workspace::overlay::{self, Becomes};

use super::card::Part;
use super::later::Modules;
use super::listing::name_of;
use super::mass_slider::mass_slider;
use super::what_if::{of_items, on_board};
use crate::live::{act, flag, live, text};
use crate::store::Store;

/// Named in the place of an item: a mass that is none. No item has it, as ids have no spaces.
pub const EXTRA: &str = "extra payload";

/// What is on board as a short list; one of them named, what may become of it.
#[component]
pub fn HeavierSheet() -> impl IntoView {
    let modules = Modules::here();
    view! {
        <details class="fold heavier" data-sheet="heavier">
            <summary><h2>"Another load: a heavier lens…"</h2></summary>
            {modules.part(Part::Heavier)}
        </details>
    }
}

/// What stands in it.
pub fn heavier() -> AnyView {
    let store = Store::here();
    let named = RwSignal::new(None::<String>);
    let of_items = of_items(store);
    let is_there = move |named: &String| named == EXTRA || on_board(store).contains(named);
    let sheet = move || match named.get().filter(is_there) {
        None => listed(store, of_items, named),
        Some(named_it) if named_it == EXTRA => extra(named),
        Some(item) => becomes(store, named, item),
    };
    live(sheet)
}

fn listed(store: Store, of_items: Memo<WhatIf>, named: RwSignal<Option<String>>) -> AnyView {
    let row = |item: String| {
        let name = name_of(store, List::Items, &item);
        let weight = text({
            let item = item.clone();
            move || of_items.with(|what_if| flown_words(store, what_if, &item))
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
fn flown_words(store: Store, what_if: &WhatIf, item: &str) -> String {
    let units = store.units.get();
    let Some(flown) = overlay::flown(what_if, item) else { return "left on the ground".to_owned() };
    let saved = store.bundle.with(|bundle| Item::find(bundle, &flown).map(|(_, there)| there.mass_kg));
    let changed = overlay::mass_kg(what_if, &flown);
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
            {steps(store, item)}
            {rows}
            {mass_slider(named)}
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
        step(5.0, "+ 5 steps", "+ 5 steps heavier"),
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
fn extra(named: RwSignal<Option<String>>) -> AnyView {
    view! {
        <div class="heavier-list">
            <p class="row"><strong>"Extra payload"</strong>
                <button type="button" on:click=act(move || named.set(None))>"All on board"</button></p>
            {mass_slider(named)}
        </div>
    }
    .into_any()
}
