//! What if: changes laid over the open setup; the saved setup is not touched. What they come to: `what_if_band`.

use leptos::prelude::*;
use liftmargin_document::model::numbers::ITEM_MASS;
use liftmargin_document::model::{Bundle, Item};
use liftmargin_document::record::{List, Record};
use liftmargin_document::sweep::MassOf;
use liftmargin_document::whatif::WhatIf;
use liftmargin_document::workspace::overlay::{self, Becomes};

use super::entry::number_at;
use super::listing::name_of;
use crate::live::{act, live, live_each, memo, text};
use crate::parts::{ChoiceField, Choices};
use crate::router::Screen;
use crate::store::{Place, Store};

/// Key of "left on the ground" among the choices; no item has it, as ids have no spaces.
const LEFT: &str = "left on the ground";

/// The what-if, folded until it is wanted.
#[component]
pub fn WhatIfPanel() -> impl IntoView {
    let store = Store::here();
    let active = move || store.has_what_if();
    let of_items = of_items(store);
    let unfolded = untrack(active);
    view! {
        <section class="what-if" data-active=text(move || if active() { "yes" } else { "no" }.to_owned())>
            <details class="fold" open=unfolded>
                <summary><h2>"What if…"</h2></summary>
                <ul class="things">{live_each(move || on_board(store), move |item| on_board_row(of_items, item))}</ul>
                <Added />
                <ExtraMass />
            </details>
        </section>
    }
}

/// Ids of what is on board.
pub fn on_board(store: Store) -> Vec<String> {
    let items = store.with_setup(|setup| {
        setup.load.iter().filter(|load| load.on).map(|load| load.item.clone()).collect::<Vec<_>>()
    });
    items.unwrap_or_default()
}

/// The what-if but for a mass that is no item: a key typed there asks no item anew.
pub fn of_items(store: Store) -> Memo<WhatIf> {
    memo(move || store.what_if.with(|what_if| MassOf::Extra([0.0; 3]).others(what_if)))
}

/// Changes the what-if.
fn change(store: Store, change: impl FnOnce(&mut WhatIf)) {
    store.what_if.update(change);
}

fn on_board_row(of_items: Memo<WhatIf>, item: String) -> AnyView {
    let store = Store::here();
    let own = item.clone();
    let choices = move || store.bundle.with(|bundle| swaps(&bundle.items, &own));
    let own = item.clone();
    let becomes = move || of_items.with(|what_if| overlay::becomes(what_if, &own));
    let chosen = {
        let becomes = becomes.clone();
        text(move || match becomes() {
            Becomes::AsSaved => String::new(),
            Becomes::Left => LEFT.to_owned(),
            Becomes::Other(other) => other,
        })
    };
    let own = item.clone();
    let choose = Callback::new(move |key: String| {
        let becomes = match key.as_str() {
            "" => Becomes::AsSaved,
            LEFT => Becomes::Left,
            _ => Becomes::Other(key),
        };
        change(store, |what_if| overlay::set_becomes(what_if, &own, becomes));
    });
    let label = untrack(|| name_of(store, List::Items, &item));
    let flown = memo(move || match becomes() {
        Becomes::AsSaved => item.clone(),
        Becomes::Left => String::new(),
        Becomes::Other(other) => other,
    });
    view! {
        <li class="thing">
            <ChoiceField label options=Box::new(choices) value=chosen on_change=choose />
            {live(move || Some(flown.get()).filter(|item| !item.is_empty()).map(|item| mass_field(store, of_items, item)))}
        </li>
    }
    .into_any()
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
fn mass_field(store: Store, of_items: Memo<WhatIf>, item: String) -> AnyView {
    let element = format!("what-if-mass-{item}");
    let own = item.clone();
    let mass_kg = move |bundle: &Bundle| {
        let saved = Item::find(bundle, &own).map(|(_, there)| there.mass_kg);
        of_items.with(|what_if| overlay::mass_kg(what_if, &own)).or(saved)
    };
    let (own, counted) = (item.clone(), mass_kg.clone());
    let place = of_what_if(store, element, move |bundle| {
        Some((format!("What if, {}", Item::find(bundle, &own)?.1.name), counted(bundle)))
    });
    let value = memo(move || store.bundle.with(&mass_kg));
    let write = Callback::new(move |mass_kg: Option<f64>| {
        change(store, |what_if| overlay::set_mass(what_if, &item, mass_kg));
    });
    number_at(place, value, write)
}

/// A mass of the what-if, as long as the setup is open that it lies over.
fn of_what_if(
    store: Store,
    element: String,
    counts: impl Fn(&Bundle) -> Option<(String, Option<f64>)> + Send + Sync + 'static,
) -> Place {
    let setup = store.open.get_untracked();
    let counts = move |bundle: &Bundle| (store.open.get() == setup).then(|| counts(bundle)).flatten();
    Place::part(element, Screen::Card, &ITEM_MASS.number, counts)
}

#[component]
fn Added() -> impl IntoView {
    let store = Store::here();
    let added = memo(move || store.what_if.with(overlay::added));
    let choices = move || {
        let taken = [on_board(store), added.get()].concat();
        let free = store.bundle.with(|bundle| List::Items.names(bundle)).into_iter();
        let mut choices = vec![(String::new(), "choose…".to_owned())];
        choices.extend(free.filter(|(id, _)| !taken.contains(id)));
        choices
    };
    let add = Callback::new(move |id: String| {
        if !id.is_empty() {
            change(store, |what_if| overlay::add(what_if, &id));
        }
    });
    let row = move |id: String| {
        let name = untrack(|| name_of(store, List::Items, &id));
        let label = format!("Remove {name}");
        let remove = act(move || change(store, |what_if| overlay::remove(what_if, &id)));
        view! {
            <li class="thing">
                <span>{name}</span>
                <button type="button" on:click=remove>{label}</button>
            </li>
        }
    };
    view! {
        <ul class="things">{live_each(move || added.get(), row)}</ul>
        <ChoiceField label="Add an item" options=Box::new(choices) value=text(String::new) on_change=add />
    }
}

/// A mass that is no item, hung where the payload hangs.
#[component]
fn ExtraMass() -> impl IntoView {
    let store = Store::here();
    let extra_kg = move || Some(store.what_if.with(overlay::extra_mass_kg).unwrap_or_default());
    let value = memo(extra_kg);
    let write = Callback::new(move |mass_kg: Option<f64>| {
        let position_m = payload_position(store);
        change(store, |what_if| overlay::set_extra_mass(what_if, mass_kg, position_m));
    });
    let counts = move |_: &Bundle| Some(("What if, extra mass".to_owned(), extra_kg()));
    let place = of_what_if(store, "what-if-extra-mass".to_owned(), counts);
    view! {
        <div class="thing">
            <span>"Extra mass with the payload"</span>
            {number_at(place, value, write)}
        </div>
    }
}

/// Where the first thing on board hangs.
fn payload_position(store: Store) -> [f64; 3] {
    let first = untrack(|| on_board(store)).into_iter().next().unwrap_or_default();
    store
        .bundle
        .with_untracked(|bundle| Item::find(bundle, &first).map(|(_, item)| item.position_m))
        .unwrap_or_default()
}
