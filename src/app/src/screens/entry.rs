//! Fields of the file on screen: tables of fields as rows of number fields, words as choices.

use leptos::prelude::*;
use liftmargin_document::fields::{Entry, Group, Number, Word};
use liftmargin_document::guide::is_assumed;

use crate::live::{live_while, memo, text};
use crate::parts::{ChoiceField, Choices, NumberField};
use crate::store::{Place, Store};

/// The id of the element that holds a field, from the path of the field in the file.
pub fn element_id(list: &str, id: &str, path: &str) -> String {
    let plain = |letter: char| if letter.is_ascii_alphanumeric() { letter } else { '-' };
    format!("{list}-{id}-{path}").chars().map(plain).collect()
}

/// What the ids of all fields of a record begin with: of the row that holds them.
pub fn row_of(list: &str, id: &str) -> String {
    element_id(list, id, "").trim_end_matches('-').to_owned()
}

/// A group of fields of one record.
pub fn entries(id: &str, fields: Group) -> Vec<AnyView> {
    fields.iter().map(|field| entry(id, *field)).collect()
}

/// One field of one record.
pub fn entry(id: &str, field: &'static dyn Entry) -> AnyView {
    let store = Store::here();
    let own = id.to_owned();
    let value = memo(move || store.bundle.with(|bundle| field.value(bundle, &own)));
    let own = id.to_owned();
    let list = field.list().key();
    let write = move |value: Option<f64>| {
        let group = format!("{list} {own} {}", field.number().path);
        let id = own.clone();
        store.edit(&group, field.number().label, Box::new(move |bundle| field.put(bundle, &id, value)));
    };
    let place = Place::of(element_id(list, id, field.number().path), field, id);
    let assumed = assumed_mark(store, id, field);
    let field = number_at(place, value, Callback::new(write));
    match assumed {
        Some(mark) => view! { <div class="assumed-field">{mark} {field}</div> }.into_any(),
        None => field,
    }
}

/// A mark on a number that nobody has entered, until somebody does. Numbers of what is long there follow no signal.
fn assumed_mark(store: Store, id: &str, field: &'static dyn Entry) -> Option<AnyView> {
    let path = field.number().path;
    let own = id.to_owned();
    let is_one = move |bundle: &_| is_assumed(bundle, field.list(), &own, path);
    store.bundle.with_untracked(&is_one).then(|| {
        live_while(
            move || store.bundle.with(&is_one),
            || view! { <p class="assumed">"Assumed: replace it"</p> },
        )
    })
}

/// A number field that says on every screen when its text is refused; values are in the file's unit.
pub fn number_at(place: Place, value: Memo<Option<f64>>, write: Callback<Option<f64>>) -> AnyView {
    let store = Store::here();
    let left = store.refused_text(&place);
    let (element, number) = (place.element.clone(), place.number);
    let told = Callback::new(move |text: Option<String>| store.refuse(&place, text));
    view! { <NumberField number value units=store.units on_change=write id=Some(element) left on_refused=told /> }.into_any()
}

/// A number field under an id; values are in the file's unit.
pub fn number(
    element: String,
    number: &'static Number,
    value: Memo<Option<f64>>,
    write: Callback<Option<f64>>,
) -> AnyView {
    let store = Store::here();
    view! { <NumberField number value units=store.units on_change=write id=Some(element) left=None on_refused=Callback::new(|_| ()) /> }.into_any()
}

/// A word of one thing, chosen from what `options` gives.
pub fn choice(
    id: &str,
    word: &'static Word,
    label: &'static str,
    options: impl Fn() -> Choices + Send + Sync + 'static,
) -> AnyView {
    let store = Store::here();
    let own = id.to_owned();
    let value = text(move || store.bundle.with(|bundle| word.get(bundle, &own)));
    let own = id.to_owned();
    let choose = Callback::new(move |chosen: String| choose(store, word, &own, chosen));
    let element = Some(element_id(word.list.key(), id, word.path));
    view! { <ChoiceField id=element label options=Box::new(options) value on_change=choose /> }.into_any()
}

/// Puts a word.
pub fn choose(store: Store, word: &'static Word, id: &str, chosen: String) {
    let group = format!("{} {id} {}", word.list.key(), word.path);
    let id = id.to_owned();
    store.edit(&group, word.name, Box::new(move |bundle| word.set(bundle, &id, chosen)));
}

/// Keys of the file as choices, with their hyphens as spaces.
pub fn keys(keys: &'static [&'static str]) -> impl Fn() -> Choices {
    move || keys.iter().map(|key| ((*key).to_owned(), key.replace('-', " "))).collect()
}
