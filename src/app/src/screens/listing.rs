//! What all lists of the file have in common on screen: choices by name, renaming, copy, delete.

use core::marker::PhantomData;

use leptos::prelude::*;
use liftmargin_document::listed::Listed;

use crate::parts::TextField;
use crate::store::Store;

/// What can be chosen: key and words.
pub type Choices = Vec<(String, String)>;

/// Everything on a list, with an open choice where none is made.
pub fn choices_of<T: Listed>(store: Store) -> Signal<Choices> {
    Signal::derive(move || {
        let open = (String::new(), "choose…".to_owned());
        let there = store.bundle.with(|bundle| {
            T::list(bundle)
                .iter()
                .map(|thing| (thing.id().to_owned(), thing.name().to_owned()))
                .collect::<Vec<_>>()
        });
        core::iter::once(open).chain(there).collect()
    })
}

/// The name of a thing, typed.
#[component]
pub fn NameField<T: Listed + Send + Sync + 'static>(
    /// Its id.
    id: String,
    /// Words before the field.
    label: &'static str,
    /// The list.
    #[prop(optional)]
    of: PhantomData<T>,
) -> impl IntoView {
    let PhantomData = of;
    let store = Store::here();
    let own = id.clone();
    let name = Memo::new(move |_| {
        let name =
            store.bundle.with(|bundle| T::find(bundle, &own).map(|(_, thing)| thing.name().to_owned()));
        name.unwrap_or_default()
    });
    let typed = move |name: String| {
        store.edit_thing::<T>(&id, "name", "the name", |thing| thing.set_name(name));
    };
    view! { <TextField label value=name on_change=typed /> }
}

/// Copy and delete, with the reason where it cannot be deleted.
#[component]
pub fn ThingButtons<T: Listed + Send + Sync + 'static>(
    /// Its id.
    id: String,
    /// The list.
    #[prop(optional)]
    of: PhantomData<T>,
) -> impl IntoView {
    let PhantomData = of;
    let store = Store::here();
    let fault = RwSignal::new(None::<String>);
    let own = id.clone();
    let copy = move |_| {
        store.copy::<T>(&own);
    };
    let delete = move |_| fault.set(store.delete::<T>(&id).err().map(|fault| fault.to_string()));
    view! {
        <p class="row">
            <button type="button" on:click=copy>"Copy"</button>
            <button type="button" on:click=delete>"Delete"</button>
        </p>
        {move || fault.get().map(|words| view! { <p role="alert" class="fault">{words}</p> })}
    }
}
