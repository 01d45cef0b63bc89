//! What if: changes laid over the open setup, with what they come to; the saved setup is not touched.

use leptos::prelude::*;
use liftmargin_core::mass::Item as CoreItem;
use liftmargin_document::listed::Listed;
use liftmargin_document::schema::Item;
use liftmargin_document::workspace::overlay::{self, Becomes};

use super::before_after::BeforeAfter;
use super::entry::typed;
use super::listing::Choices;
use crate::parts::ChoiceField;
use crate::store::Store;

/// Key of "left on the ground" among the choices; no item has it, as ids have no spaces.
const LEFT: &str = "left on the ground";

/// The what-if, folded until it is wanted.
#[component]
pub fn WhatIfPanel() -> impl IntoView {
    let store = Store::here();
    let active = Memo::new(move |_| !store.what_if.with(|what_if| what_if.changes.is_empty()));
    let unfolded = active.get_untracked();
    view! {
        <section class="what-if" data-active=move || active.get().then_some("yes")>
            <details class="fold" open=unfolded>
                <summary><h2>"What if…"</h2></summary>
                <OnBoard />
                <Added />
                <ExtraMass />
            </details>
            <Show when=move || active.get()>
                <BeforeAfter />
                <Endings />
            </Show>
        </section>
    }
}

#[component]
fn OnBoard() -> impl IntoView {
    let store = Store::here();
    let items = Memo::new(move |_| {
        let items = store.with_setup(|setup| {
            setup.load.iter().filter(|load| load.on).map(|load| load.item.clone()).collect::<Vec<_>>()
        });
        items.unwrap_or_default()
    });
    view! {
        <ul class="things">
            <For each=move || items.get() key=Clone::clone let:item>
                <OnBoardRow item />
            </For>
        </ul>
    }
}

#[component]
fn OnBoardRow(item: String) -> impl IntoView {
    let store = Store::here();
    let own = item.clone();
    let choices = Memo::new(move |_| store.bundle.with(|bundle| swaps(&bundle.items, &own)));
    let own = item.clone();
    let becomes = Memo::new(move |_| store.what_if.with(|what_if| overlay::becomes(what_if, &own)));
    let chosen = Signal::derive(move || match becomes.get() {
        Becomes::AsSaved => String::new(),
        Becomes::Left => LEFT.to_owned(),
        Becomes::Other(other) => other,
    });
    let own = item.clone();
    let choose = move |key: String| {
        let becomes = match key.as_str() {
            "" => Becomes::AsSaved,
            LEFT => Becomes::Left,
            _ => Becomes::Other(key),
        };
        store.what_if.update(|what_if| overlay::set_becomes(what_if, &own, becomes));
    };
    let label =
        store.bundle.with_untracked(|bundle| Item::find(bundle, &item).map(|(_, there)| there.name.clone()));
    view! {
        <li class="thing">
            <ChoiceField label=label.unwrap_or_default() options=choices value=chosen on_change=choose />
            {move || {
                let on_board = match becomes.get() {
                    Becomes::AsSaved => item.clone(),
                    Becomes::Left => return None,
                    Becomes::Other(other) => other,
                };
                Some(mass_field(store, on_board))
            }}
        </li>
    }
}

/// What can take the place of an item: those of its kind, or nothing.
fn swaps(items: &[Item], own: &str) -> Choices {
    let kind = items.iter().find(|item| item.id == own).map(|item| item.kind.as_str());
    let others = items.iter().filter(|item| item.id != own && Some(item.kind.as_str()) == kind);
    let mut choices = vec![(String::new(), "as saved".to_owned())];
    choices.extend(others.map(|item| (item.id.clone(), format!("swap for {}", item.name))));
    choices.push((LEFT.to_owned(), LEFT.to_owned()));
    choices
}

/// The mass of an item within the what-if.
fn mass_field(store: Store, item: String) -> AnyView {
    let element = format!("what-if-mass-{item}");
    let own = item.clone();
    let saved = move || store.bundle.with(|bundle| Item::find(bundle, &own).map(|(_, there)| there.mass_kg));
    let own = item.clone();
    let value =
        Signal::derive(move || store.what_if.with(|what_if| overlay::mass_kg(what_if, &own)).or_else(&saved));
    let write = Callback::new(move |mass_kg: Option<f64>| {
        store.what_if.update(|what_if| overlay::set_mass(what_if, &item, mass_kg));
    });
    typed(element, &CoreItem::MASS, None, false, value, write)
}

#[component]
fn Added() -> impl IntoView {
    let store = Store::here();
    let added = Memo::new(move |_| store.what_if.with(overlay::added));
    let choices = Signal::derive(move || {
        let on_board = store
            .with_setup(|setup| {
                setup.load.iter().filter(|load| load.on).map(|load| load.item.clone()).collect::<Vec<_>>()
            })
            .unwrap_or_default();
        let mut choices = vec![(String::new(), "choose…".to_owned())];
        store.bundle.with(|bundle| {
            let free = bundle
                .items
                .iter()
                .filter(|item| !on_board.contains(&item.id) && !added.get().contains(&item.id));
            choices.extend(free.map(|item| (item.id.clone(), item.name.clone())));
        });
        choices
    });
    let add = move |id: String| {
        if !id.is_empty() {
            store.what_if.update(|what_if| overlay::add(what_if, &id));
        }
    };
    let row = move |id: String| {
        let name =
            store.bundle.with_untracked(|bundle| Item::find(bundle, &id).map(|(_, item)| item.name.clone()));
        let name = name.unwrap_or_default();
        let take_off = move |_| store.what_if.update(|what_if| overlay::take_off(what_if, &id));
        view! {
            <li class="thing">
                <span>{name.clone()}</span>
                <button type="button" on:click=take_off>"Take off " {name}</button>
            </li>
        }
    };
    view! {
        <ul class="things">{move || added.get().into_iter().map(row).collect_view()}</ul>
        <ChoiceField label="Add an item" options=choices value=Signal::stored(String::new()) on_change=add />
    }
}

/// A mass that is no item, hung where the payload hangs.
#[component]
fn ExtraMass() -> impl IntoView {
    let store = Store::here();
    let value = Signal::derive(move || Some(store.what_if.with(overlay::extra_mass_kg).unwrap_or_default()));
    let write = Callback::new(move |mass_kg: Option<f64>| {
        let position_m = payload_position(store);
        store.what_if.update(|what_if| overlay::set_extra_mass(what_if, mass_kg, position_m));
    });
    view! {
        <div class="thing">
            <span>"Extra mass with the payload"</span>
            {typed("what-if-extra-mass".to_owned(), &CoreItem::MASS, None, false, value, write)}
        </div>
    }
}

/// Where the first thing on board hangs.
fn payload_position(store: Store) -> [f64; 3] {
    let first = untrack(|| {
        store.with_setup(|setup| setup.load.iter().find(|load| load.on).map(|load| load.item.clone()))
    });
    let item = first.flatten().unwrap_or_default();
    store
        .bundle
        .with_untracked(|bundle| Item::find(bundle, &item).map(|(_, item)| item.position_m))
        .unwrap_or_default()
}

#[component]
fn Endings() -> impl IntoView {
    let store = Store::here();
    let fault = RwSignal::new(None::<String>);
    let keep = move |_| fault.set(store.keep_what_if().err().map(|fault| fault.to_string()));
    view! {
        <p class="row">
            <button type="button" on:click=move |_| store.reset_what_if()>"Reset"</button>
            <button type="button" on:click=keep>"Keep as new setup"</button>
        </p>
        {move || fault.get().map(|words| view! { <p role="alert" class="fault">{words}</p> })}
    }
}
