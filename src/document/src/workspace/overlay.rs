//! The what-if as a screen edits it: what becomes of each thing on board, what comes on top.

use crate::model::numbers::ITEM_MASS;
use crate::model::{Bundle, Item};
use crate::record::Record;
use crate::whatif::{Change, WhatIf};

/// What becomes of an item on board.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Becomes {
    /// As saved.
    AsSaved,
    /// Left on the ground.
    Left,
    /// This one in its place.
    Other(String),
}

/// What becomes of an item on board.
pub fn becomes(what_if: &WhatIf, item: &str) -> Becomes {
    let of_item = what_if.changes.iter().find_map(|change| match change {
        Change::Swap { from, to } if from == item => Some(Becomes::Other(to.clone())),
        Change::Leave { item: left } if left == item => Some(Becomes::Left),
        _ => None,
    });
    of_item.unwrap_or(Becomes::AsSaved)
}

/// Says what becomes of an item on board. A changed mass of it, or of what took its place, is dropped.
pub fn set_becomes(what_if: &mut WhatIf, item: &str, new: Becomes) {
    if let Becomes::Other(old) = becomes(what_if, item) {
        set_mass(what_if, &old, None);
    }
    set_mass(what_if, item, None);
    what_if.changes.retain(|change| match change {
        Change::Swap { from, .. } => from != item,
        Change::Leave { item: left } => left != item,
        _ => true,
    });
    let item = item.to_owned();
    // Before masses and extras: a changed mass belongs to what is on board by then.
    match new {
        Becomes::AsSaved => {}
        Becomes::Left => what_if.changes.insert(0, Change::Leave { item }),
        Becomes::Other(to) => what_if.changes.insert(0, Change::Swap { from: item, to }),
    }
}

/// The changed mass of an item, if it is changed.
pub fn mass_kg(what_if: &WhatIf, wanted: &str) -> Option<f64> {
    what_if.changes.iter().find_map(|change| match change {
        Change::ItemMass { item, mass_kg } if item == wanted => Some(*mass_kg),
        _ => None,
    })
}

/// Changes the mass of an item, or leaves it as saved.
pub fn set_mass(what_if: &mut WhatIf, wanted: &str, mass_kg: Option<f64>) {
    what_if.changes.retain(|change| !matches!(change, Change::ItemMass { item, .. } if item == wanted));
    if let Some(mass_kg) = mass_kg {
        what_if.changes.push(Change::ItemMass { item: wanted.to_owned(), mass_kg });
    }
}

/// Items that come on top.
pub fn added(what_if: &WhatIf) -> Vec<String> {
    let added = what_if.changes.iter().filter_map(|change| match change {
        Change::Add { item } => Some(item.clone()),
        _ => None,
    });
    added.collect()
}

/// Puts one more item on board.
pub fn add(what_if: &mut WhatIf, item: &str) {
    // Before masses, as above.
    what_if.changes.insert(0, Change::Add { item: item.to_owned() });
}

/// Removes an added item again.
pub fn remove(what_if: &mut WhatIf, wanted: &str) {
    set_mass(what_if, wanted, None);
    what_if.changes.retain(|change| !matches!(change, Change::Add { item } if item == wanted));
}

/// The extra mass, if there is any.
pub fn extra_mass_kg(what_if: &WhatIf) -> Option<f64> {
    what_if.changes.iter().find_map(|change| match change {
        Change::ExtraMass { mass_kg, .. } => Some(*mass_kg),
        _ => None,
    })
}

/// An extra mass hanging at the payload's place, or none.
pub fn set_extra_mass(what_if: &mut WhatIf, mass_kg: Option<f64>, position_m: [f64; 3]) {
    what_if.changes.retain(|change| !matches!(change, Change::ExtraMass { .. }));
    if let Some(mass_kg) = mass_kg.filter(|mass_kg| *mass_kg > 0.0) {
        what_if.changes.push(Change::ExtraMass { mass_kg, position_m });
    }
}

/// What is flown in the place of an item on board; none where it is left.
pub fn flown(what_if: &WhatIf, item: &str) -> Option<String> {
    match becomes(what_if, item) {
        Becomes::AsSaved => Some(item.to_owned()),
        Becomes::Left => None,
        Becomes::Other(other) => Some(other),
    }
}

/// By how much what is flown in the place of an item is heavier than saved, kg.
pub fn heavier_kg(bundle: &Bundle, what_if: &WhatIf, item: &str) -> f64 {
    let more = flown(what_if, item).and_then(|flown| {
        let (_, saved) = Item::find(bundle, &flown)?;
        Some(mass_kg(what_if, &flown)? - saved.mass_kg)
    });
    more.unwrap_or_default()
}

/// Makes what is flown in the place of an item heavier by a step (lighter by a negative one). Nothing changes where
/// the mass would leave its range; back at the saved mass, nothing is changed any more.
pub fn step_mass(bundle: &Bundle, what_if: &mut WhatIf, item: &str, step_kg: f64) {
    let Some(flown) = flown(what_if, item) else { return };
    let Some((_, saved)) = Item::find(bundle, &flown) else { return };
    let mass = mass_kg(what_if, &flown).unwrap_or(saved.mass_kg) + step_kg;
    if ITEM_MASS.number.check(mass).is_ok() {
        let is_saved = (mass - saved.mass_kg).abs() < 1e-6;
        set_mass(what_if, &flown, (!is_saved).then_some(mass));
    }
}

/// What can take the place of an item: the others of its kind, lightest first.
pub fn others_of_its_kind<'a>(bundle: &'a Bundle, item: &str) -> Vec<&'a Item> {
    let kind = Item::find(bundle, item).map(|(_, item)| item.kind.as_str());
    let is_other = |other: &&Item| other.id != item && Some(other.kind.as_str()) == kind;
    let mut others: Vec<&Item> = bundle.items.iter().filter(is_other).collect();
    others.sort_by(|one, other| one.mass_kg.total_cmp(&other.mass_kg));
    others
}
