//! A what-if kept as a setup of its own, or taken over into the setup that it was laid over.

use crate::edit;
use crate::error::DocumentError;
use crate::model::{Bundle, Item, Setup};
use crate::record::{List, Record};
use crate::whatif::{WhatIf, apply};

/// A bundle with one more setup that has the changes, and its id. Nothing saved is touched: an item that the what-if
/// makes heavier or lighter is added as an item of its own.
///
/// # Errors
/// As `apply`.
pub fn keep(
    bundle: &Bundle,
    setup_id: &str,
    what_if: &WhatIf,
    name: &str,
) -> Result<(Bundle, String), DocumentError> {
    let changed = apply(bundle, setup_id, what_if)?;
    let (mut kept, id) = edit::copy(List::Setups, bundle, setup_id, name)?;
    let setup = with_own_items(&mut kept, bundle, &changed, setup_id, &|_| true);
    if let (Some(mut setup), Some(place)) = (setup, Setup::find_mut(&mut kept, &id)) {
        setup.id.clone_from(&id);
        name.clone_into(&mut setup.name);
        *place = setup;
    }
    Ok((kept, id))
}

/// A bundle in which the setup itself has the changes. No other setup is touched: an item of another setup too that
/// the what-if makes heavier or lighter is added as an item of its own.
///
/// # Errors
/// As `apply`.
pub fn change(bundle: &Bundle, setup_id: &str, what_if: &WhatIf) -> Result<Bundle, DocumentError> {
    let changed = apply(bundle, setup_id, what_if)?;
    let elsewhere = |item: &str| {
        let mut others = bundle.setups.iter().filter(|setup| setup.id != setup_id);
        others.any(|setup| setup.load.iter().any(|load| load.item == item))
    };
    let mut kept = bundle.clone();
    let setup = with_own_items(&mut kept, bundle, &changed, setup_id, &elsewhere);
    if let (Some(setup), Some(place)) = (setup, Setup::find_mut(&mut kept, setup_id)) {
        *place = setup;
    }
    Ok(kept)
}

/// Takes the changed items over into `kept`, as items of their own where `own` says so; gives the changed setup, which
/// refers to them.
fn with_own_items(
    kept: &mut Bundle,
    bundle: &Bundle,
    changed: &Bundle,
    setup_id: &str,
    own: &dyn Fn(&str) -> bool,
) -> Option<Setup> {
    let mut setup = Setup::find(changed, setup_id).map(|(_, setup)| setup.clone())?;
    for item in &changed.items {
        let saved = Item::find(bundle, &item.id).map(|(_, saved)| saved);
        if saved == Some(item) {
            continue;
        }
        if let (Some(_), false, Some(place)) = (saved, own(&item.id), Item::find_mut(kept, &item.id)) {
            place.clone_from(item);
            continue;
        }
        let mut added = item.clone();
        if saved.is_some() {
            added.name = format!("{} (what-if)", item.name);
        }
        let (with_item, new_id) = edit::add(kept, added, &item.id);
        *kept = with_item;
        let loads = setup.load.iter_mut().filter(|load| load.item == item.id);
        loads.for_each(|load| load.item.clone_from(&new_id));
    }
    Some(setup)
}
