//! Packs in strings, the meter, leads.

use leptos::prelude::*;
use liftmargin_document::fields::{ON_BOARD, PACK, PACK_AGE, WIRING};
use liftmargin_document::keys::CHEMISTRIES;
use liftmargin_document::listed::Listed;
use liftmargin_document::schema::{Pack, Supply};

use super::super::entry::{element_id, entries};
use super::super::listing::Choices;
use super::super::listing::{NameField, ThingButtons, choices_of};
use super::Section;
use crate::parts::ChoiceField;
use crate::store::Store;

/// Packs of the setup.
#[component]
pub fn SupplySection(setup: String) -> impl IntoView {
    view! {
        <Section title="Packs and meter">
            <div id=element_id("setups", &setup, "supply")>
                <Strings />
            </div>
            <MeterChoice id=element_id("setups", &setup, "supply.meter") />
            <div class="entries">{entries(&setup, &ON_BOARD)}</div>
            <details class="more">
                <summary>"Leads, steady load, place of the packs"</summary>
                <div class="entries">{entries(&setup, &WIRING)}</div>
            </details>
            <PackTypes />
        </Section>
    }
}

/// Changes the strings of the open setup.
fn edit_strings(store: Store, change: impl FnOnce(&mut Vec<Vec<String>>)) {
    store.edit_setup_alone("the packs on board", |setup| change(&mut setup.supply.strings));
}

#[component]
fn Strings() -> impl IntoView {
    let store = Store::here();
    let strings =
        Memo::new(move |_| store.with_setup(|setup| setup.supply.strings.clone()).unwrap_or_default());
    let add = move |_| {
        edit_strings(store, |strings| {
            let like_the_last = strings.last().cloned().unwrap_or_else(|| vec![String::new()]);
            strings.push(like_the_last);
        });
    };
    view! {
        <ol class="strings">
            {move || {
                strings.get().into_iter().enumerate()
                    .map(|(index, packs)| view! { <StringRow index packs /> })
                    .collect_view()
            }}
        </ol>
        <p class="row"><button type="button" on:click=add>"Add a string in parallel"</button></p>
    }
}

#[component]
fn StringRow(index: usize, packs: Vec<String>) -> impl IntoView {
    let store = Store::here();
    let add = move |_| {
        edit_strings(store, |strings| {
            if let Some(string) = strings.get_mut(index) {
                let like_the_last = string.last().cloned().unwrap_or_default();
                string.push(like_the_last);
            }
        });
    };
    let shorten = move |_| {
        edit_strings(store, |strings| {
            let Some(string) = strings.get_mut(index) else { return };
            string.pop();
            if string.is_empty() {
                strings.remove(index);
            }
        });
    };
    let choice = move |(place, pack): (usize, String)| {
        let choose = move |id: String| {
            edit_strings(store, |strings| {
                if let Some(chosen) = strings.get_mut(index).and_then(|string| string.get_mut(place)) {
                    *chosen = id;
                }
            });
        };
        let label = format!("String {}, pack {}", index + 1, place + 1);
        view! { <ChoiceField label options={choices_of::<Pack>(store)} value=Signal::stored(pack) on_change=choose /> }
    };
    view! {
        <li class="string">
            {packs.into_iter().enumerate().map(choice).collect_view()}
            <p class="row">
                <button type="button" on:click=add>"Add a pack in series to string " {index + 1}</button>
                <button type="button" on:click=shorten>"Take a pack out of string " {index + 1}</button>
            </p>
        </li>
    }
}

#[component]
fn MeterChoice(id: String) -> impl IntoView {
    let store = Store::here();
    let count = Memo::new(move |_| store.with_setup(|setup| setup.supply.strings.len()).unwrap_or_default());
    let choices = Signal::derive(move || {
        let all = ("bus".to_owned(), "all packs together".to_owned());
        let strings =
            (1..=count.get()).map(|number| (format!("string-{number}"), format!("string {number} only")));
        core::iter::once(all).chain(strings).collect::<Choices>()
    });
    let chosen =
        Signal::derive(move || store.with_setup(|setup| setup.supply.meter.clone()).unwrap_or_default());
    let choose = move |meter: String| {
        store.edit_setup("meter", "where the meter sits", |setup| setup.supply.meter = meter);
    };
    view! { <ChoiceField id label="The meter on board counts" options=choices value=chosen on_change=choose /> }
}

#[component]
fn PackTypes() -> impl IntoView {
    let store = Store::here();
    let ids = Memo::new(move |_| {
        store.bundle.with(|bundle| bundle.packs.iter().map(|pack| pack.id.clone()).collect::<Vec<_>>())
    });
    let new = move |_| {
        let id = store.add(new_pack(), "pack");
        let has_none = store.with_setup(|setup| needs_pack(&setup.supply)).unwrap_or_default();
        if has_none {
            edit_strings(store, |strings| *strings = vec![vec![id]]);
        }
    };
    view! {
        <h3>"Pack types"</h3>
        <For each=move || ids.get() key=Clone::clone let:id>
            <PackType id />
        </For>
        <p class="row"><button type="button" on:click=new>"New pack type"</button></p>
    }
}

fn needs_pack(supply: &Supply) -> bool {
    supply.strings.iter().flatten().all(String::is_empty)
}

/// A common size to start from; every figure is to be replaced by the label's.
fn new_pack() -> Pack {
    Pack {
        id: String::new(),
        name: "New pack".to_owned(),
        chemistry: "lithium-polymer".to_owned(),
        cells_in_series: 6,
        capacity_mah: 10_000.0,
        cell_resistance_mohm: 2.0,
        mass_kg: 1.4,
        continuous_c_rating: 15.0,
        cycles: 0,
        measured_capacity_mah: None,
        measured_cell_resistance_mohm: None,
    }
}

#[component]
fn PackType(id: String) -> impl IntoView {
    let store = Store::here();
    let own = id.clone();
    let name = Memo::new(move |_| {
        store
            .bundle
            .with(|bundle| Pack::find(bundle, &own).map(|(_, pack)| pack.name.clone()))
            .unwrap_or_default()
    });
    let own = id.clone();
    let chosen = Signal::derive(move || {
        store
            .bundle
            .with(|bundle| Pack::find(bundle, &own).map(|(_, pack)| pack.chemistry.clone()))
            .unwrap_or_default()
    });
    let own = id.clone();
    let choose = move |chemistry: String| {
        store.edit_thing::<Pack>(&own, "chemistry", "the chemistry", |pack| pack.chemistry = chemistry);
    };
    let choices: Choices = CHEMISTRIES.iter().map(|key| ((*key).to_owned(), key.replace('-', " "))).collect();
    view! {
        <details class="more">
            <summary>{name}</summary>
            <NameField<Pack> id=id.clone() label="Name" />
            <ChoiceField label="Chemistry" options=Signal::stored(choices) value=chosen on_change=choose />
            <div class="entries">{entries(&id, &PACK)} {entries(&id, &PACK_AGE)}</div>
            <ThingButtons<Pack> id />
        </details>
    }
}
