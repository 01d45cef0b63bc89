//! What is on board beside packs: items with mass, place and power.

use leptos::prelude::*;
use liftmargin_document::fields::{ITEM, ITEM_MASS};
use liftmargin_document::keys::ITEM_KINDS;
use liftmargin_document::listed::Listed;
use liftmargin_document::schema::{Item, Load};

use super::super::entry::{entries, entry};
use super::super::listing::Choices;
use super::super::listing::{NameField, ThingButtons, choices_of};
use super::Section;
use crate::parts::{ChoiceField, SwitchRow};
use crate::store::Store;

/// Items on board of the setup.
#[component]
pub fn PayloadSection() -> impl IntoView {
    let store = Store::here();
    let loads = Memo::new(move |_| {
        let loads =
            store.with_setup(|setup| setup.load.iter().map(|load| load.item.clone()).collect::<Vec<_>>());
        loads.unwrap_or_default().into_iter().enumerate().collect::<Vec<_>>()
    });
    view! {
        <Section title="On board" open=true>
            <ul class="things">
                <For each=move || loads.get() key=Clone::clone let:load>
                    <LoadRow index=load.0 item=load.1 />
                </For>
            </ul>
            <AddItem />
        </Section>
    }
}

#[component]
fn LoadRow(index: usize, item: String) -> impl IntoView {
    let store = Store::here();
    let on = Memo::new(move |_| {
        store.with_setup(|setup| setup.load.get(index).is_some_and(|load| load.on)).unwrap_or_default()
    });
    let switch = move |on: bool| {
        store.edit_setup(&format!("load {index}"), "what is on board", |setup| {
            if let Some(load) = setup.load.get_mut(index) {
                load.on = on;
            }
        });
    };
    let take_off = move |_| {
        store.edit_setup_alone("taking an item out", |setup| {
            if index < setup.load.len() {
                setup.load.remove(index);
            }
        });
    };
    let id = item.clone();
    let name = Memo::new(move |_| {
        store
            .bundle
            .with(|bundle| Item::find(bundle, &id).map(|(_, item)| item.name.clone()))
            .unwrap_or_default()
    });
    view! {
        <li class="thing">
            <SwitchRow label=name on on_change=switch />
            {entry(&item, &ITEM_MASS)}
            <details class="more">
                <summary>"More on " {name}</summary>
                <NameField<Item> id=item.clone() label="Name" />
                <KindChoice item=item.clone() />
                <div class="entries">{entries(&item, &ITEM)}</div>
                <p class="row">
                    <button type="button" on:click=take_off>"Take out of this setup"</button>
                </p>
                <ThingButtons<Item> id=item />
            </details>
        </li>
    }
}

#[component]
fn KindChoice(item: String) -> impl IntoView {
    let store = Store::here();
    let choices: Choices = ITEM_KINDS.iter().map(|kind| ((*kind).to_owned(), (*kind).to_owned())).collect();
    let own = item.clone();
    let chosen = Signal::derive(move || {
        store
            .bundle
            .with(|bundle| Item::find(bundle, &own).map(|(_, item)| item.kind.clone()))
            .unwrap_or_default()
    });
    let choose = move |kind: String| {
        store.edit_thing::<Item>(&item, "kind", "the kind", |item| item.kind = kind);
    };
    view! { <ChoiceField label="Kind" options=Signal::stored(choices) value=chosen on_change=choose /> }
}

#[component]
fn AddItem() -> impl IntoView {
    let store = Store::here();
    let put_on = move |id: String| {
        if !id.is_empty() {
            store.edit_setup_alone("putting an item on board", |setup| {
                setup.load.push(Load { item: id, on: true });
            });
        }
    };
    let new = move |_| {
        let item = Item {
            id: String::new(),
            name: "New item".to_owned(),
            kind: "other".to_owned(),
            mass_kg: 0.0,
            position_m: [0.0; 3],
            power_w: 0.0,
        };
        put_on(store.add(item, "item"));
    };
    let not_on_board = Signal::derive(move || {
        let on_board =
            store.with_setup(|setup| setup.load.iter().map(|load| load.item.clone()).collect::<Vec<_>>());
        let on_board = on_board.unwrap_or_default();
        let all = choices_of::<Item>(store).get();
        all.into_iter().filter(|(id, _)| !on_board.contains(id)).collect::<Choices>()
    });
    view! {
        <ChoiceField label="Put on board" options=not_on_board value=Signal::stored(String::new()) on_change=put_on />
        <p class="row"><button type="button" on:click=new>"New item"</button></p>
    }
}
