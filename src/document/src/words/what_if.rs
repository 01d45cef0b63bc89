//! What a what-if changes, in words.

use crate::model::{Bundle, Item};
use crate::present::answer::{Toward, stepped};
use crate::present::units::{Choice, Units};
use crate::record::{List, Record};
use crate::whatif::{Change, WhatIf};

/// What differs from the setup as saved: "Zoom instead of 50 mm; 1.2 kg on top".
pub fn differs(bundle: &Bundle, what_if: &WhatIf, units: Units) -> String {
    let parts: Vec<String> = what_if.changes.iter().map(|change| one(bundle, change, units)).collect();
    parts.join("; ")
}

fn one(bundle: &Bundle, change: &Change, units: Units) -> String {
    let item =
        |id: &String| List::Items.name(bundle, id).unwrap_or_else(|| "an item that is gone".to_owned());
    match change {
        Change::Swap { from, to } => format!("{} instead of {}", item(to), item(from)),
        Change::Add { item: added } => format!("{} on board as well", item(added)),
        Change::Leave { item: left } => format!("{} left on the ground", item(left)),
        Change::ItemMass { item: of, mass_kg } => match Item::find(bundle, of) {
            Some((_, saved)) => format!("{} {}", item(of), by_how_much(mass_kg - saved.mass_kg, units)),
            None => item(of),
        },
        Change::ExtraMass { mass_kg, .. } => format!("{} extra with the payload", mass(*mass_kg, units)),
        Change::Packs { .. } => "other packs".to_owned(),
        Change::Site { site } => {
            let name = List::Sites.name(bundle, site).unwrap_or_else(|| "a site that is gone".to_owned());
            format!("at {name}")
        }
    }
}

/// "heavier by 0.60 kg".
pub fn by_how_much(more_kg: f64, units: Units) -> String {
    let way = if more_kg < 0.0 { "lighter" } else { "heavier" };
    format!("{way} by {}", mass(more_kg.abs(), units))
}

/// A mass of an item, "1.20 kg".
pub fn mass(kg: f64, units: Units) -> String {
    stepped(kg, units.get(Choice::Mass), 0.01, Toward::Nearest, units).to_string()
}
