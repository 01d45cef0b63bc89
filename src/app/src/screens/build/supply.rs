//! Packs in strings, the meter, leads.

use leptos::prelude::*;
use liftmargin_document::fields::{ON_BOARD, PACK, PACK_AGE, PACK_CHEMISTRY, SETUP_METER, WIRING};
use liftmargin_document::keys::CHEMISTRIES;
use liftmargin_document::record::List;
use liftmargin_document::schema::{Pack, Supply};

use super::super::entry::{choice, element_id, entries, keys};
use super::super::listing::{choices_of, name_field, name_of, thing_buttons};
use super::Section;
use crate::live::{act, live, live_each, memo, text};
use crate::parts::{ChoiceField, Choices};
use crate::store::Store;

/// Packs of the setup.
#[component]
pub fn SupplySection(setup: String) -> impl IntoView {
    let store = Store::here();
    view! {
        <Section title="Packs and meter">
            <div id=element_id("setups", &setup, "supply")>
                <Strings />
            </div>
            <aside class="caution">
                <h3>"Before packs are joined"</h3>
                <p>
                    "Compare their rest voltages: strings of different voltage must not be connected in parallel. No swollen, damaged or cold packs. Not charged unattended. Carried by the transport rules. The packs' maker has the last word."
                </p>
            </aside>
            {choice(&setup, &SETUP_METER, "The meter on board counts", move || meters(store))}
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
fn edit_strings(store: Store, change: impl FnOnce(&mut Vec<Vec<String>>) + 'static) {
    store.edit_setup_alone("the packs on board", |setup| change(&mut setup.supply.strings));
}

#[component]
fn Strings() -> impl IntoView {
    let store = Store::here();
    let strings = memo(move || store.with_setup(|setup| setup.supply.strings.clone()).unwrap_or_default());
    let add = act(move || {
        edit_strings(store, |strings| {
            let like_the_last = strings.last().cloned().unwrap_or_else(|| vec![String::new()]);
            strings.push(like_the_last);
        });
    });
    let rows = move || {
        let strings = strings.get().into_iter().enumerate();
        strings.map(|(index, packs)| string_row(store, index, packs)).collect::<Vec<AnyView>>()
    };
    view! {
        <ol class="strings">{live(rows)}</ol>
        <p class="row"><button type="button" on:click=add>"Add a string in parallel"</button></p>
    }
}

fn string_row(store: Store, index: usize, packs: Vec<String>) -> AnyView {
    let add = act(move || {
        edit_strings(store, move |strings| {
            if let Some(string) = strings.get_mut(index) {
                let like_the_last = string.last().cloned().unwrap_or_default();
                string.push(like_the_last);
            }
        });
    });
    let shorten = act(move || {
        edit_strings(store, move |strings| {
            let Some(string) = strings.get_mut(index) else { return };
            string.pop();
            if string.is_empty() {
                strings.remove(index);
            }
        });
    });
    let packs: Vec<AnyView> =
        packs.into_iter().enumerate().map(|(place, pack)| pack_choice(store, index, place, pack)).collect();
    view! {
        <li class="string">
            {packs}
            <p class="row">
                <button type="button" on:click=add>{format!("Add a pack in series to string {}", index + 1)}</button>
                <button type="button" on:click=shorten>{format!("Take a pack out of string {}", index + 1)}</button>
            </p>
        </li>
    }
    .into_any()
}

fn pack_choice(store: Store, index: usize, place: usize, pack: String) -> AnyView {
    let choose = Callback::new(move |id: String| {
        edit_strings(store, move |strings| {
            if let Some(chosen) = strings.get_mut(index).and_then(|string| string.get_mut(place)) {
                *chosen = id;
            }
        });
    });
    let label = format!("String {}, pack {}", index + 1, place + 1);
    view! {
        <ChoiceField label options=Box::new(move || choices_of(store, List::Packs)) value=text(move || pack.clone())
            on_change=choose />
    }
    .into_any()
}

/// Where the meter may sit.
fn meters(store: Store) -> Choices {
    let count = store.with_setup(|setup| setup.supply.strings.len()).unwrap_or_default();
    let mut places = vec![("bus".to_owned(), "all packs together".to_owned())];
    places.extend((1..=count).map(|number| (format!("string-{number}"), format!("string {number} only"))));
    places
}

#[component]
fn PackTypes() -> impl IntoView {
    let store = Store::here();
    let ids = move || store.bundle.with(|bundle| bundle.packs.iter().map(|pack| pack.id.clone()).collect());
    let new = act(move || {
        let id = store.add(new_pack(), List::Packs, "pack");
        let has_none = store.with_setup(|setup| needs_pack(&setup.supply)).unwrap_or_default();
        if has_none {
            edit_strings(store, |strings| *strings = vec![vec![id]]);
        }
    });
    view! {
        <h3>"Pack types"</h3>
        {live_each(ids, pack_type)}
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

fn pack_type(id: String) -> AnyView {
    let store = Store::here();
    let own = id.clone();
    view! {
        <details class="more">
            <summary>{text(move || name_of(store, List::Packs, &own))}</summary>
            {name_field(List::Packs, &id, "Name")}
            {choice(&id, &PACK_CHEMISTRY, "Chemistry", keys(CHEMISTRIES))}
            <div class="entries">{entries(&id, &PACK)} {entries(&id, &PACK_AGE)}</div>
            {thing_buttons(List::Packs, &id)}
        </details>
    }
    .into_any()
}
