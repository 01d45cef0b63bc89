//! What a setup has on board in words, and how many sets of its packs there are.

use std::collections::BTreeMap;

use crate::model::{Airframe, Bundle, Item, Pack, PackRef, PackType, Setup};
use crate::record::Record;

/// "Heavy eight; Camera A, 50 mm; 6 × Twelve cells, 16 Ah".
pub fn on_board(bundle: &Bundle, setup: &Setup) -> String {
    let airframe = Airframe::find(bundle, &setup.airframe).map(|(_, airframe)| airframe.name.clone());
    let load = setup.load.iter().filter(|load| load.on);
    let items: Vec<&str> =
        load.filter_map(|load| Item::find(bundle, &load.item)).map(|(_, item)| item.name.as_str()).collect();
    let packs: Vec<String> = needed(bundle, setup)
        .into_iter()
        .filter_map(|(id, count)| {
            let (_, sort) = PackType::find(bundle, &id)?;
            Some(if count == 1 { sort.name.clone() } else { format!("{count} × {}", sort.name) })
        })
        .collect();
    let parts = [airframe.unwrap_or_default(), items.join(", "), packs.join(" + ")];
    let parts: Vec<String> = parts.into_iter().filter(|part| !part.is_empty()).collect();
    parts.join("; ")
}

/// Sets of packs that this setup can fly with, from the register of packs; none where a sort of pack is not in it at all.
pub fn pack_sets(bundle: &Bundle, setup: &Setup) -> Option<usize> {
    let needed = needed(bundle, setup);
    let in_use =
        |sort: &str| bundle.packs.iter().filter(|pack| pack.pack_type == sort && !pack.retired).count();
    let is_known = |sort: &str| bundle.packs.iter().any(|pack| pack.pack_type == sort);
    needed
        .keys()
        .all(|sort| is_known(sort))
        .then(|| needed.iter().map(|(sort, count)| in_use(sort) / count).min())?
}

/// How many packs of each sort a setup takes.
fn needed(bundle: &Bundle, setup: &Setup) -> BTreeMap<String, usize> {
    let mut needed = BTreeMap::new();
    for pack in setup.supply.strings.iter().flat_map(|string| &string.packs) {
        let sort = match pack {
            PackRef::Type(id) => id.clone(),
            PackRef::Pack(id) => {
                Pack::find(bundle, id).map(|(_, pack)| pack.pack_type.clone()).unwrap_or_default()
            }
        };
        *needed.entry(sort).or_insert(0) += 1;
    }
    needed
}
