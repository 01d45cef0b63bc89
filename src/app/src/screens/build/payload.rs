//! What is on board beside packs: items with mass, place and power.

use leptos::prelude::*;
use liftmargin_document::model::numbers::{ITEM, ITEM_KIND, ITEM_MASS};
use liftmargin_document::model::{Item, ItemKind, Load};
use liftmargin_document::record::List;

use super::super::entry::{choice, element_id, entries, entry, keys, row_of};
use super::super::listing::{choices_of, name_field, name_of, thing_buttons};
use super::Section;
use crate::live::{act, flag, live_each, text};
use crate::parts::{ChoiceField, Choices, OpenRows, SwitchRow, opening_row};
use crate::store::Store;

/// Name of an item that has none yet.
const NEW_ITEM: &str = "New item";

/// Items on board of the setup.
#[component]
pub fn PayloadSection(
    /// The setup.
    setup: String,
) -> impl IntoView {
    let store = Store::here();
    let open: OpenRows = RwSignal::new(Vec::new());
    let places = move || {
        on_board(store).into_iter().enumerate().map(|(index, item)| format!("{index} {item}")).collect()
    };
    view! {
        <Section title="On board" open=true>
            <p class="quiet">"Masses as weighed, with plates, cables and cards. Touch a name for the rest."</p>
            <ul class="things" id=element_id("setups", &setup, "load") tabindex="-1">
                {live_each(places, move |place| load_row(place, open))}
            </ul>
            <AddItem />
        </Section>
    }
}

fn on_board(store: Store) -> Vec<String> {
    store.with_setup(|setup| setup.load.iter().map(|load| load.item.clone()).collect()).unwrap_or_default()
}

/// The row of an item on board, by its place and id: `2 lens-b`. Name, mass, on or off; the rest on touch.
fn load_row(place: String, open: OpenRows) -> AnyView {
    let store = Store::here();
    let (index, item) = place.split_once(' ').unwrap_or_default();
    let index: usize = index.parse().unwrap_or_default();
    let item = item.to_owned();
    let on = flag(move || {
        store.with_setup(|setup| setup.load.get(index).is_some_and(|load| load.on)).unwrap_or_default()
    });
    let switch = Callback::new(move |on: bool| {
        store.edit_setup_alone("what is on board", move |setup| {
            if let Some(load) = setup.load.get_mut(index) {
                load.on = on;
            }
        });
    });
    let own = item.clone();
    let label = text(move || name_of(store, List::Items, &own));
    let own = item.clone();
    let name = text(move || name_of(store, List::Items, &own));
    // The name comes first where there is none yet.
    let unnamed =
        store.bundle.with_untracked(|bundle| List::Items.name(bundle, &item)).as_deref() == Some(NEW_ITEM);
    let named_first = unnamed.then(|| name_field(List::Items, &item, "Name of the item"));
    let beside =
        view! { {entry(&item, &ITEM_MASS)} <SwitchRow label on on_change=switch sub=text(String::new) /> };
    let holds = row_of("items", &item);
    let rest = move || rest_of(&item, index);
    view! { <li class="thing">{named_first} {opening_row(holds, open, name, beside.into_any(), rest)}</li> }
        .into_any()
}

/// What there is to an item beside its mass.
fn rest_of(item: &str, index: usize) -> AnyView {
    let store = Store::here();
    let take_out = act(move || {
        store.edit_setup_alone("taking an item out", move |setup| {
            if index < setup.load.len() {
                setup.load.remove(index);
            }
        });
    });
    view! {
        <div class="opening-rest">
            {name_field(List::Items, item, "Name")}
            {choice(item, &ITEM_KIND, "Kind", keys(ItemKind::KEYS))}
            <div class="entries">{entries(item, ITEM)}</div>
            <p class="quiet">
                "Power as taken from the flight packs, 0 for what has a battery of its own. Places from the rotor centre; a payload hangs below it, so down is positive."
            </p>
            <p class="row"><button type="button" on:click=take_out>"Remove from this setup"</button></p>
            {thing_buttons(List::Items, item)}
        </div>
    }
    .into_any()
}

#[component]
fn AddItem() -> impl IntoView {
    let store = Store::here();
    let put_on = move |id: String| {
        if !id.is_empty() {
            store.edit_setup_alone("putting an item on board", |setup| {
                setup.load.push(Load { item: id, on: true, ..Load::default() });
            });
        }
    };
    let new = act(move || {
        let item = Item { name: NEW_ITEM.to_owned(), kind: "other".to_owned(), ..Item::default() };
        put_on(store.add(item, "item"));
    });
    let not_on_board = move || {
        let on_board = on_board(store);
        let all = choices_of(store, List::Items);
        all.into_iter().filter(|(id, _)| !on_board.contains(id)).collect::<Choices>()
    };
    view! {
        <ChoiceField label="Put on board" options=Box::new(not_on_board) value=text(String::new)
            on_change=Callback::new(put_on) />
        <p class="row"><button type="button" on:click=new>"New item"</button></p>
    }
}
