//! Fields of the file on screen: tables of fields as rows of number fields, words as choices.

use leptos::prelude::*;
use liftmargin_core::input_range::InputRange;
use liftmargin_document::fields::{Entry, Field, Word};
use liftmargin_document::measure::label;
use liftmargin_document::record::Record;

use crate::live::{memo, text};
use crate::parts::{ChoiceField, Choices, NumberField};
use crate::store::Store;

/// The id of the element that holds a field, from the path of the field in the file.
pub fn element_id(list: &str, id: &str, path: &str) -> String {
    let plain = |letter: char| if letter.is_ascii_alphanumeric() { letter } else { '-' };
    format!("{list}-{id}-{path}").chars().map(plain).collect()
}

/// A table of fields of one thing.
pub fn entries<T: Record>(id: &str, fields: &'static [Field<T>]) -> Vec<AnyView> {
    fields.iter().map(|field| entry(id, field)).collect()
}

/// One field of one thing.
pub fn entry(id: &str, field: &'static dyn Entry) -> AnyView {
    let store = Store::here();
    let own = id.to_owned();
    let value = memo(move || store.bundle.with(|bundle| field.value(bundle, &own)));
    let own = id.to_owned();
    let write = move |si: Option<f64>| {
        let group = format!("{} {own} {}", field.list(), field.path());
        let id = own.clone();
        store.edit(&group, label(field.range().field), Box::new(move |bundle| field.put(bundle, &id, si)));
    };
    let element = element_id(field.list(), id, field.path());
    number(element, field.range(), axis(field.path()), field.optional(), value, Callback::new(write))
}

/// The same words for three axes would not tell them apart.
fn axis(path: &str) -> Option<&'static str> {
    match path.as_bytes() {
        [.., b'[', b'0', b']'] => Some("forward"),
        [.., b'[', b'1', b']'] => Some("to the right"),
        [.., b'[', b'2', b']'] => Some("down"),
        _ => None,
    }
}

/// A number field under an id.
pub fn number(
    element: String,
    range: &'static InputRange,
    axis: Option<&'static str>,
    optional: bool,
    value: Memo<Option<f64>>,
    write: Callback<Option<f64>>,
) -> AnyView {
    let store = Store::here();
    let label = axis.map(|axis| format!("{}, {axis}", label(range.field)));
    view! {
        <NumberField range may_be_empty=optional value units=store.units on_change=write label id=Some(element) />
    }
    .into_any()
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
