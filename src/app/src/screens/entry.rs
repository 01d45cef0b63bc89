//! Numbers of the file, typed: tables of fields as rows of number fields.

use leptos::prelude::*;
use liftmargin_core::bound::Bound;
use liftmargin_document::fields::Field;
use liftmargin_document::listed::Listed;
use liftmargin_document::measure::label;

use crate::parts::NumberField;
use crate::store::Store;

/// The id of the element that holds a field, from the path of the field in the file.
pub fn element_id(list: &str, id: &str, path: &str) -> String {
    let plain = |letter: char| if letter.is_ascii_alphanumeric() { letter } else { '-' };
    format!("{list}-{id}-{path}").chars().map(plain).collect()
}

/// A table of fields of one thing.
pub fn entries<T: Listed + Send + Sync>(id: &str, fields: &'static [Field<T>]) -> impl IntoView + use<T> {
    fields.iter().map(|field| entry(id, field)).collect_view()
}

/// One field of one thing.
pub fn entry<T: Listed + Send + Sync>(id: &str, field: &'static Field<T>) -> impl IntoView + use<T> {
    let store = Store::here();
    let own = id.to_owned();
    let value = Memo::new(move |_| {
        store.bundle.with(|bundle| T::find(bundle, &own).and_then(|(_, thing)| field.get(thing)))
    });
    let own = id.to_owned();
    let write = move |si: Option<f64>| {
        let words = label(field.bound.field);
        store.edit_thing::<T>(&own, field.path, words, |thing| field.set(thing, si));
    };
    let element = element_id(T::LIST, id, field.path);
    typed(element, field.bound, axis(field.path), field.optional, value.into(), Callback::new(write))
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
pub fn typed(
    element: String,
    bound: &'static Bound,
    axis: Option<&'static str>,
    optional: bool,
    value: Signal<Option<f64>>,
    write: Callback<Option<f64>>,
) -> AnyView {
    let store = Store::here();
    let label = axis.map(|axis| format!("{}, {axis}", label(bound.field)));
    view! {
        <NumberField bound may_be_empty=optional value units=store.units on_change=write label id=Some(element) />
    }
    .into_any()
}
