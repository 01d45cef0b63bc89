//! Pack types, and single packs that the crew tells apart.

use leptos::prelude::*;
use liftmargin_core::cell::Chemistry;
use liftmargin_document::guide::new_pack_type;
use liftmargin_document::keys::MAKER_1_KHZ;
use liftmargin_document::model::numbers::{
    PACK, PACK_CHEMISTRY, PACK_RESISTANCE_KIND, PACK_TYPE, PACK_TYPE_OF_PACK, TYPE_AGE,
};
use liftmargin_document::model::{Pack, PackRef, PackString, Supply};
use liftmargin_document::record::List;

use super::super::entry::{choice, entries, keys};
use super::super::listing::{choices_of, name_field, name_of, thing_buttons};
use super::two_readings::resistance_by_readings;
use crate::live::{act, live_each, text};
use crate::store::Store;

/// Sorts of pack.
#[component]
pub fn PackTypes() -> impl IntoView {
    let store = Store::here();
    let ids = move || store.bundle.with(|bundle| bundle.pack_types.iter().map(|of| of.id.clone()).collect());
    let new = act(move || {
        let id = store.add(new_pack_type(), "pack-type");
        let has_none = store.with_setup(|setup| needs_pack(&setup.supply)).unwrap_or_default();
        if has_none {
            store.edit_setup_alone("the packs on board", |setup| {
                let packs = vec![PackRef::Type(id)];
                setup.supply.strings = vec![PackString { packs, ..PackString::default() }];
            });
        }
    });
    view! {
        <h3>"Pack types"</h3>
        {live_each(ids, pack_type)}
        <p class="row"><button type="button" on:click=new>"New pack type"</button></p>
    }
}

fn needs_pack(supply: &Supply) -> bool {
    supply.strings.iter().flat_map(|string| &string.packs).all(|pack| pack.id().is_empty())
}

/// Nothing said means under load.
fn resistance_kinds() -> Vec<(String, String)> {
    [("", "measured under load"), (MAKER_1_KHZ, "its maker's at 1 kHz")]
        .map(|(kind, words)| (kind.to_owned(), words.to_owned()))
        .into()
}

fn pack_type(id: String) -> AnyView {
    let store = Store::here();
    let own = id.clone();
    view! {
        <details class="more">
            <summary>{text(move || name_of(store, List::PackTypes, &own))}</summary>
            {name_field(List::PackTypes, &id, "Name")}
            {choice(&id, &PACK_CHEMISTRY, "Chemistry", keys(Chemistry::KEYS))}
            {choice(&id, &PACK_RESISTANCE_KIND, "Cell resistance is", resistance_kinds)}
            <div class="entries">{entries(&id, PACK_TYPE)} {entries(&id, TYPE_AGE)}</div>
            {resistance_by_readings(&id)}
            {thing_buttons(List::PackTypes, &id)}
        </details>
    }
    .into_any()
}

/// Packs that the crew tells apart by their labels.
#[component]
pub fn SinglePacks() -> impl IntoView {
    let store = Store::here();
    let ids = move || store.bundle.with(|bundle| bundle.packs.iter().map(|pack| pack.id.clone()).collect());
    let new = act(move || {
        let of = store.bundle.with_untracked(|bundle| bundle.pack_types.first().map(|of| of.id.clone()));
        let pack_type = of.unwrap_or_default();
        store.add(Pack { name: "Pack 1".to_owned(), pack_type, ..Pack::default() }, "pack");
    });
    view! {
        <h3>"Single packs"</h3>
        {live_each(ids, |id| single_pack(id, ().into_any()))}
        <p class="row"><button type="button" on:click=new>"New single pack"</button></p>
    }
}

/// A certain pack, unfolded to change it; `more` stands below its numbers.
pub fn single_pack(id: String, more: AnyView) -> AnyView {
    let store = Store::here();
    let own = id.clone();
    let types = move || choices_of(store, List::PackTypes);
    view! {
        <details class="more">
            <summary>{text(move || name_of(store, List::Packs, &own))}</summary>
            {name_field(List::Packs, &id, "Label on the pack")}
            {choice(&id, &PACK_TYPE_OF_PACK, "Pack type", types)}
            <div class="entries">{entries(&id, PACK)}</div>
            {more}
            {thing_buttons(List::Packs, &id)}
        </details>
    }
    .into_any()
}
