//! A what-if kept as a setup of its own.

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
    let mut setup = Setup::find(&changed, setup_id).map(|(_, setup)| setup.clone());
    for item in &changed.items {
        if Item::find(bundle, &item.id).is_some_and(|(_, there)| there == item) {
            continue;
        }
        let mut own = item.clone();
        own.name = if Item::find(bundle, &item.id).is_some() {
            format!("{} (what-if)", item.name)
        } else {
            own.name
        };
        let (with_item, new_id) = edit::add(&kept, own, &item.id);
        kept = with_item;
        let loads = setup.iter_mut().flat_map(|setup| &mut setup.load);
        loads.filter(|load| load.item == item.id).for_each(|load| load.item.clone_from(&new_id));
    }
    if let (Some(mut setup), Some(place)) = (setup, kept.setups.iter_mut().find(|setup| setup.id == id)) {
        setup.id.clone_from(&id);
        name.clone_into(&mut setup.name);
        *place = setup;
    }
    Ok((kept, id))
}
