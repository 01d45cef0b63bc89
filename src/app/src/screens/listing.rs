//! What all lists of the file have in common on screen: choices by name, renaming, copy, delete.

use leptos::prelude::*;
use liftmargin_document::record::List;

use crate::live::{act, live, text};
use crate::parts::{Choices, TextField};
use crate::store::Store;

/// Everything on a list, with an open choice where none is made.
pub fn choices_of(store: Store, list: List) -> Choices {
    let mut choices = vec![(String::new(), "choose…".to_owned())];
    choices.extend(store.bundle.with(|bundle| list.names(bundle)));
    choices
}

/// The shown name of a thing.
pub fn name_of(store: Store, list: List, id: &str) -> String {
    store.bundle.with(|bundle| list.name(bundle, id)).unwrap_or_default()
}

/// The name of a thing, typed.
pub fn name_field(list: List, id: &str, label: &'static str) -> AnyView {
    let store = Store::here();
    let own = id.to_owned();
    let name = text(move || name_of(store, list, &own));
    let own = id.to_owned();
    let typed = Callback::new(move |name: String| {
        let id = own.clone();
        let group = format!("{} {id} name", list.key());
        store.edit(&group, "the name", Box::new(move |bundle| list.set_name(bundle, &id, name)));
    });
    view! { <TextField label value=name on_change=typed /> }.into_any()
}

/// Copy and delete, with the reason where it cannot be deleted.
pub fn thing_buttons(list: List, id: &str) -> AnyView {
    let store = Store::here();
    let fault = RwSignal::new(None::<String>);
    let own = id.to_owned();
    let copy = act(move || store.copy(list, &own));
    let own = id.to_owned();
    // A flight of the log may refer to it.
    let delete = act(move || {
        let own = own.clone();
        store.once_log_read(move || {
            fault.set(store.delete(list, &own).err().map(|fault| fault.to_string()));
        });
    });
    view! {
        <p class="row">
            <button type="button" on:click=copy>"Copy"</button>
            <button type="button" on:click=delete>"Delete"</button>
        </p>
        {live(move || fault.get().map(fault_view))}
    }
    .into_any()
}

/// Words on a fault, told at once.
pub fn fault_view(words: String) -> AnyView {
    view! { <p role="alert" class="fault">{words}</p> }.into_any()
}
