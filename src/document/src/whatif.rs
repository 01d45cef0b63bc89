//! What if: changes laid over a setup in a copy of the equipment; the saved one is not touched.

use crate::error::DocumentError;
use crate::model::numbers::{ITEM_AXES, ITEM_MASS};
use crate::model::{Bundle, Item, Load, Pack, PackRef, PackString, PackType, Setup, Site};
use crate::quantity::position;
use crate::record::{List, Record, fresh_id};
use crate::resolve::referred;

/// Changes, taken in order.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct WhatIf {
    /// The changes.
    pub changes: Vec<Change>,
}

/// One change.
#[derive(Debug, Clone, PartialEq)]
pub enum Change {
    /// Another item in the place of one on board.
    Swap {
        /// Id of the item on board.
        from: String,
        /// Id of the item in its place.
        to: String,
    },
    /// One more item on board.
    Add {
        /// Its id.
        item: String,
    },
    /// An item left on the ground.
    Leave {
        /// Its id.
        item: String,
    },
    /// An item heavier or lighter than saved.
    ItemMass {
        /// Its id.
        item: String,
        /// Its mass.
        mass_kg: f64,
    },
    /// A mass that is no item.
    ExtraMass {
        /// The mass.
        mass_kg: f64,
        /// Forward, right, down of the rotor centre.
        position_m: [f64; 3],
    },
    /// Other packs.
    Packs {
        /// Strings in parallel.
        strings: Vec<PackString>,
    },
    /// Another place.
    Site {
        /// Its id.
        site: String,
    },
}

/// A copy of the equipment in which the setup has the changes; ids stay as they are.
///
/// # Errors
/// An unknown setup, and `changes[n]…` for a change that refers to nothing, to an item that the setup has not got, or
/// holds a number out of range.
pub fn apply(bundle: &Bundle, setup_id: &str, what_if: &WhatIf) -> Result<Bundle, DocumentError> {
    let (index, _) = referred::<Setup>(bundle, "setup", setup_id)?;
    let mut copy = bundle.equipment();
    for (number, change) in what_if.changes.iter().enumerate() {
        change_one(&mut copy, index, change).map_err(|fault| fault.under(&format!("changes[{number}]")))?;
    }
    Ok(copy)
}

fn change_one(copy: &mut Bundle, index: usize, change: &Change) -> Result<(), DocumentError> {
    check(copy, change)?;
    if let Change::ItemMass { item, mass_kg } = change {
        copy.items.iter_mut().filter(|there| there.id == *item).for_each(|there| there.mass_kg = *mass_kg);
    }
    let extra = match change {
        Change::ExtraMass { mass_kg, position_m } => Some(add_extra(copy, *mass_kg, *position_m)),
        _ => None,
    };
    let Some(setup) = copy.setups.get_mut(index) else { return Ok(()) };
    match change {
        Change::Swap { from, to } => {
            on_board(setup, "from", from)?.item.clone_from(to);
        }
        Change::Leave { item } => on_board(setup, "item", item)?.on = false,
        Change::ItemMass { item, .. } => {
            on_board(setup, "item", item)?;
        }
        Change::Add { item } => add(setup, item),
        Change::ExtraMass { .. } => extra.iter().for_each(|item| add(setup, item)),
        Change::Packs { strings } => setup.supply.strings.clone_from(strings),
        Change::Site { site } => setup.site.clone_from(site),
    }
    Ok(())
}

/// References and numbers of a change.
fn check(bundle: &Bundle, change: &Change) -> Result<(), DocumentError> {
    match change {
        Change::Swap { to, .. } => referred::<Item>(bundle, "to", to).map(drop),
        Change::Add { item } | Change::Leave { item } => referred::<Item>(bundle, "item", item).map(drop),
        Change::ItemMass { item, mass_kg } => {
            referred::<Item>(bundle, "item", item)?;
            ITEM_MASS.number.check(*mass_kg).map(drop)
        }
        Change::ExtraMass { mass_kg, position_m } => {
            let extra = Item { mass_kg: *mass_kg, position_m: *position_m, ..Item::default() };
            position(ITEM_AXES, &extra)?;
            ITEM_MASS.si(&extra).map(drop)
        }
        Change::Packs { strings } => strings.iter().enumerate().try_for_each(|(string, packs)| {
            packs.packs.iter().enumerate().try_for_each(|(place, pack)| {
                let path = format!("strings[{string}].packs[{place}]");
                match pack {
                    PackRef::Type(id) => referred::<PackType>(bundle, &path, id).map(drop),
                    PackRef::Pack(id) => referred::<Pack>(bundle, &path, id).map(drop),
                }
            })
        }),
        Change::Site { site } => referred::<Site>(bundle, "site", site).map(drop),
    }
}

fn on_board<'a>(setup: &'a mut Setup, path: &str, item: &str) -> Result<&'a mut Load, DocumentError> {
    setup.load.iter_mut().find(|load| load.on && load.item == item).ok_or_else(|| {
        DocumentError::Contradiction {
            path: path.to_owned(),
            value: item.to_owned(),
            allowed: "an item on board of this setup".to_owned(),
        }
    })
}

/// An item that was left out is put back; another is put on (a second one of a kind is two of them).
fn add(setup: &mut Setup, item: &str) {
    match setup.load.iter_mut().find(|load| !load.on && load.item == item) {
        Some(left_out) => left_out.on = true,
        None => setup.load.push(Load { item: item.to_owned(), on: true, ..Load::default() }),
    }
}

fn add_extra(copy: &mut Bundle, mass_kg: f64, position_m: [f64; 3]) -> String {
    let id = fresh_id(&List::Items.names(copy), "extra-mass");
    Item::list_mut(copy).push(Item {
        id: id.clone(),
        name: "Extra mass".to_owned(),
        kind: "other".to_owned(),
        mass_kg,
        position_m,
        ..Item::default()
    });
    id
}
