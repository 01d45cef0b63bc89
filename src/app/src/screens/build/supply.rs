//! Packs in strings, the meter, leads.

use leptos::prelude::*;
use liftmargin_document::fields::Field;
use liftmargin_document::model::numbers::{SETUP_METER, STRING, SUPPLY_POSITION, WIRING};
use liftmargin_document::model::{Bundle, EqualStrings, PackRef, PackString, Setup, entered_once};
use liftmargin_document::record::Record;
use liftmargin_document::words::counts_with::{strings_title, which_strings};

use super::super::entry::{choice, element_id, entries, number_at, row_of};
use super::Section;
use super::packs::{PackTypes, SinglePacks};
use crate::live::{act, flag, live, live_while, memo, text};
use crate::parts::{ChoiceField, Choices, OpenRows, SwitchRow, opening_row};
use crate::router::Screen;
use crate::store::{Place, Store};

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

    /// What its fields' ids begin with.
    fn holds(&self, setup: &str) -> String {
        row_of("setups", &format!("{setup}-supply.strings[{}]", self.first))
    }

    fn is_chosen(&self) -> bool {
        self.packs.iter().all(|pack| !pack.id().is_empty())
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
    let setup = store.open.get_untracked();
    // The first shows what there is to a row; what is not chosen yet is asked for.
    let first = rows.with_untracked(|rows| rows.first().map(|row| row.holds(&setup)));
    let open: OpenRows = RwSignal::new(first.into_iter().collect());
    let drawn = move || {
        let rows = rows.get();
        let asks = rows.iter().filter(|row| !row.is_chosen());
        let asks: Vec<String> = asks.map(|row| row.holds(&setup)).collect();
        open.update(|open| {
            open.retain(|row| !asks.contains(row));
            open.extend(asks);
        });
        rows.into_iter().map(|row| string_row(store, row, &setup, open)).collect::<Vec<AnyView>>()
    };
    let several = move || store.with_setup(|setup| setup.supply.strings.len() > 1).unwrap_or_default();
    let apart = Callback::new(move |on| one_by_one.set(on));
    view! {
        <ol class="strings">{live(drawn)}</ol>
        <p class="quiet">
            "Temperature of the cells at take-off: left empty, as the air; cold packs sag more. Rest voltage of one cell, nothing drawn: left empty, fully charged."
        </p>
        <p class="row"><button type="button" on:click=add>"Add a string in parallel"</button></p>
        {live_while(several, move || view! {
            <SwitchRow label=text(|| "Enter each string on its own".to_owned()) on=flag(move || one_by_one.get())
                on_change=apart sub=text(String::new) />
        })}
    }
}

/// Strings that are alike, in one row; their packs and numbers on touch.
fn string_row(store: Store, row: Row, setup: &str, open: OpenRows) -> AnyView {
    let (first, count) = (row.first, row.count);
    let title = text(move || {
        let words = |setup: &Setup| {
            let (strings, units) = (&setup.supply.strings, store.units.get());
            store.bundle.with(|bundle| strings_title(bundle, strings, first, count, units))
        };
        store.with_setup(words).unwrap_or_default()
    });
    let holds = row.holds(setup);
    let rest = move || string_rest(store, &row);
    view! { <li class="string">{opening_row(holds, open, title, ().into_any(), rest)}</li> }.into_any()
}

fn string_rest(store: Store, row: &Row) -> AnyView {
    let which = which_strings(row.first, row.count);
    let one_of = if row.count == 1 { which.clone() } else { format!("one of {which}") };
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
        .map(|(place, pack)| pack_choice(store, row, place, pack.clone()))
        .collect();
    let numbers: Vec<AnyView> = STRING.iter().map(|field| string_number(store, row, field)).collect();
    view! {
        <div class="opening-rest">
            <div class="entries">{packs} {numbers}</div>
            <p class="row">
                <button type="button" on:click=add>{format!("Add a pack in series to {which}")}</button>
                <button type="button" on:click=shorten>{format!("Remove a pack from {which}")}</button>
                <button type="button" on:click=remove>{format!("Remove {one_of}")}</button>
            </p>
        </div>
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
    let id = setup.clone();
    let counts = move |bundle: &Bundle| {
        let (_, setup) = Setup::find(bundle, &id)?;
        let value = field.get(setup.supply.strings.get(first)?);
        Some((format!("{}, string {}", setup.name, first + 1), value))
    };
    let place = Place::part(element_id("setups", &setup, &path), Screen::Build, &field.number, counts);
    let write = Callback::new(move |value: Option<f64>| {
        let id = setup.clone();
        let change = move |bundle: &mut Bundle| {
            let strings = Setup::find_mut(bundle, &id).map(|setup| setup.supply.strings.iter_mut());
            strings.into_iter().flatten().skip(first).take(count).for_each(|string| field.set(string, value));
        };
        store.edit(&format!("setups {setup} {path}"), field.number.label, Box::new(change));
    });
    number_at(place, value, write)
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
