//! Packs in strings, the meter, leads.

use leptos::prelude::*;
use liftmargin_document::fields::Field;
use liftmargin_document::model::numbers::{SETUP_METER, STRING, SUPPLY_POSITION, WIRING};
use liftmargin_document::model::{Bundle, EqualStrings, PackRef, PackString, Setup, entered_once};
use liftmargin_document::record::Record;

use super::super::entry::{choice, element_id, entries, number};
use super::Section;
use super::packs::{PackTypes, SinglePacks};
use crate::live::{act, flag, live, memo, text};
use crate::parts::{ChoiceField, Choices, SwitchRow};
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
            <details class="more">
                <summary>"Leads, auxiliary load, place of the packs"</summary>
                <div class="entries">{entries(&setup, WIRING)} {entries(&setup, SUPPLY_POSITION)}</div>
            </details>
            <PackTypes />
            <SinglePacks />
        </Section>
    }
}

/// Changes the strings of the open setup.
fn edit_strings(store: Store, change: impl FnOnce(&mut Vec<PackString>) + 'static) {
    store.edit_setup_alone("the packs on board", |setup| change(&mut setup.supply.strings));
}

/// Strings that are entered together. Their numbers are left out, so that typing one draws no row anew.
#[derive(Clone, PartialEq)]
struct Row {
    first: usize,
    count: usize,
    packs: Vec<PackRef>,
}

impl Row {
    fn all(strings: &[PackString], one_by_one: bool) -> Vec<Self> {
        let alike = if one_by_one {
            strings.iter().map(|string| EqualStrings { count: 1, string: string.clone() }).collect()
        } else {
            entered_once(strings)
        };
        let mut first = 0;
        let row = |alike: EqualStrings| {
            let row = Self { first, count: alike.count, packs: alike.string.packs };
            first += alike.count;
            row
        };
        alike.into_iter().map(row).collect()
    }

    fn title(&self) -> String {
        match self.count {
            1 => format!("String {}", self.first + 1),
            count => format!("Strings {} to {}, alike", self.first + 1, self.first + count),
        }
    }

    /// Changes each of its strings.
    fn edit(&self, store: Store, change: impl Fn(&mut PackString) + 'static) {
        let (first, count) = (self.first, self.count);
        edit_strings(store, move |strings| strings.iter_mut().skip(first).take(count).for_each(change));
    }
}

#[component]
fn Strings() -> impl IntoView {
    let store = Store::here();
    let one_by_one = RwSignal::new(false);
    let rows = memo(move || {
        let apart = one_by_one.get();
        store.with_setup(|setup| Row::all(&setup.supply.strings, apart)).unwrap_or_default()
    });
    let add = act(move || {
        edit_strings(store, |strings| {
            let like_the_last = strings.last().cloned();
            let first = || PackString { packs: vec![PackRef::default()], ..PackString::default() };
            strings.push(like_the_last.unwrap_or_else(first));
        });
    });
    let drawn = move || rows.get().into_iter().map(|row| string_row(store, row)).collect::<Vec<AnyView>>();
    let apart = Callback::new(move |on| one_by_one.set(on));
    view! {
        <ol class="strings">{live(drawn)}</ol>
        <p class="row"><button type="button" on:click=add>"Add a string in parallel"</button></p>
        <SwitchRow label=text(|| "Enter each string on its own".to_owned()) on=flag(move || one_by_one.get())
            on_change=apart sub=text(String::new) />
    }
}

fn string_row(store: Store, row: Row) -> AnyView {
    let name = row.first + 1;
    let own = row.clone();
    let add = act(move || {
        own.edit(store, |string| string.packs.push(string.packs.last().cloned().unwrap_or_default()));
    });
    let own = row.clone();
    let shorten = act(move || {
        let (first, count) = (own.first, own.count);
        edit_strings(store, move |strings| {
            strings.iter_mut().skip(first).take(count).for_each(|string| drop(string.packs.pop()));
            strings.retain(|string| !string.packs.is_empty());
        });
    });
    let own = row.first;
    let remove = act(move || {
        edit_strings(store, move |strings| {
            if own < strings.len() {
                strings.remove(own);
            }
        });
    });
    let packs: Vec<AnyView> = row
        .packs
        .iter()
        .enumerate()
        .map(|(place, pack)| pack_choice(store, &row, place, pack.clone()))
        .collect();
    let numbers: Vec<AnyView> = STRING.iter().map(|field| string_number(store, &row, field)).collect();
    view! {
        <li class="string">
            <p>{row.title()}</p>
            {packs}
            <div class="entries">{numbers}</div>
            <p class="row">
                <button type="button" on:click=add>{format!("Add a pack in series to string {name}")}</button>
                <button type="button" on:click=shorten>{format!("Remove a pack from string {name}")}</button>
                <button type="button" on:click=remove>{format!("Remove string {name}")}</button>
            </p>
        </li>
    }
    .into_any()
}

/// A number of each string of a row.
fn string_number(store: Store, row: &Row, field: &'static Field<PackString>) -> AnyView {
    let (first, count) = (row.first, row.count);
    let value = memo(move || {
        store
            .with_setup(|setup| setup.supply.strings.get(first).and_then(|string| field.get(string)))
            .flatten()
    });
    let path = format!("supply.strings[{first}].{}", field.number.path);
    let setup = store.open.get_untracked();
    let element = element_id("setups", &setup, &path);
    let write = Callback::new(move |value: Option<f64>| {
        let id = setup.clone();
        let change = move |bundle: &mut Bundle| {
            let strings = Setup::find_mut(bundle, &id).map(|setup| setup.supply.strings.iter_mut());
            strings.into_iter().flatten().skip(first).take(count).for_each(|string| field.set(string, value));
        };
        store.edit(&format!("setups {setup} {path}"), field.number.label, Box::new(change));
    });
    number(element, &field.number, value, write)
}

/// Pack types, then single packs that are still flown.
fn packs_there(store: Store) -> Choices {
    let mut choices = vec![(String::new(), "choose…".to_owned())];
    store.bundle.with(|bundle| {
        let types = bundle.pack_types.iter().map(|of| (PackRef::Type(of.id.clone()), &of.name));
        let single = bundle.packs.iter().filter(|pack| !pack.retired);
        let all = types.chain(single.map(|pack| (PackRef::Pack(pack.id.clone()), &pack.name)));
        choices.extend(all.map(|(reference, name)| (reference.key(), name.clone())));
    });
    choices
}

fn pack_choice(store: Store, row: &Row, place: usize, pack: PackRef) -> AnyView {
    let label = format!("String {}, pack {}", row.first + 1, place + 1);
    let row = row.clone();
    let choose = Callback::new(move |key: String| {
        row.edit(store, move |string| {
            if let Some(chosen) = string.packs.get_mut(place) {
                *chosen = PackRef::from_key(&key);
            }
        });
    });
    view! {
        <ChoiceField label options=Box::new(move || packs_there(store)) value=text(move || pack.key()) on_change=choose />
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
