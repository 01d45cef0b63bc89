//! A setup of the file, with all it refers to, as core's.

use liftmargin_core::aircraft::{usual_lean_area, usual_power_area};
use liftmargin_core::card::{Airframe, Setup};
use liftmargin_core::mass::Item;
use liftmargin_core::supply::Supply;
use liftmargin_core::units::{Mass, Power};
use uom::si::mass::kilogram;
use uom::si::power::watt;

use super::{airframe, flight, referred, supply};
use crate::error::DocumentError;
use crate::model::{self, Bundle, PackRef, PackType, numbers as n};
use crate::quantity::position;
use crate::record::Record;

/// An item of the file as core's; paths below the item.
///
/// # Errors
/// `Refused` for a number out of range.
pub fn resolve_item(item: &model::Item) -> Result<Item, DocumentError> {
    Ok(Item {
        mass: Mass::new::<kilogram>(n::ITEM_MASS.si(item)?),
        position: position(n::ITEM_AXES, item)?,
        power: Power::new::<watt>(n::ITEM_POWER.si(item)?),
    })
}

/// A setup as core's parameters, on an airframe that `resolve_airframe` made of the one it refers to.
///
/// The bare frame and every pack become things with mass beside the payload, whose own power is added to the supply's
/// auxiliary load. Where the file states no drag area,
/// the airframe's are replaced by the usual ones of the all-up mass.
///
/// # Errors
/// Any fault of the setup or of what it refers to, with its path from the file's root.
pub fn resolve_setup(
    bundle: &Bundle,
    setup: &model::Setup,
    airframe: &Airframe,
) -> Result<Setup, DocumentError> {
    let path = match model::Setup::find(bundle, &setup.id) {
        Some((index, _)) => format!("setups[{index}]"),
        None => "setup".to_owned(),
    };
    let under = |fault: DocumentError| fault.under(&path);
    let (index, chosen) = referred::<model::Airframe>(bundle, "airframe", &setup.airframe).map_err(under)?;
    let bare = airframe::frame(chosen).map_err(|fault| fault.under(&format!("airframes[{index}]")))?;
    things_on_board(bundle, setup)?;
    let mut joined = supply::supply(bundle, setup).map_err(under)?;
    let payload = payload(bundle, setup).map_err(under)?;
    joined.auxiliary_power = auxiliary_power(&joined, &payload).map_err(under)?;
    let mut items = vec![bare];
    items.extend(supply::pack_items(setup, &joined).map_err(under)?);
    items.extend(payload);
    let mut airframe = airframe.clone();
    if chosen.drag_area_m2.is_none() {
        let all_up_mass = items.iter().map(|item| item.mass).sum();
        airframe.drag_area = usual_power_area(all_up_mass);
        airframe.lean_area = usual_lean_area(all_up_mass);
    }
    Ok(Setup {
        airframe,
        items,
        supply: joined,
        profile: flight::profile(setup).map_err(under)?,
        policy: flight::reserve(setup).map_err(under)?,
    })
}

/// Something on board that can be slid to balance: its places among the resolved setup's items.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Movable {
    /// Name for people.
    pub name: String,
    /// Places in `Setup::items`.
    pub items: Vec<usize>,
}

/// What can be slid: all payload together, all packs, each item. In the order of `resolve_setup`: frame, packs, payload.
pub fn movables(bundle: &Bundle, setup: &model::Setup) -> Vec<Movable> {
    let packs = setup.supply.strings.iter().map(|string| string.packs.len()).sum::<usize>();
    let payload: Vec<String> = setup
        .load
        .iter()
        .filter(|load| load.on)
        .map(|load| {
            model::Item::find(bundle, &load.item).map_or_else(String::new, |(_, item)| item.name.clone())
        })
        .collect();
    let first = 1 + packs;
    let mut movables = vec![
        Movable { name: "all payload together".to_owned(), items: (first..first + payload.len()).collect() },
        Movable { name: "all packs together".to_owned(), items: (1..first).collect() },
    ];
    let each = payload.into_iter().enumerate();
    movables.extend(each.map(|(place, name)| Movable { name, items: vec![first + place] }));
    movables
}

/// The load beside the motors, the payload's own included.
fn auxiliary_power(supply: &Supply, payload: &[Item]) -> Result<Power, DocumentError> {
    let sum_w = payload.iter().fold(supply.auxiliary_power, |sum, item| sum + item.power).get::<watt>();
    n::AUXILIARY_POWER.number.check(sum_w).map(Power::new::<watt>)
}

/// Holds the packs and items that a setup refers to against their ranges, so that a fault is named where it stands
/// in the file and not where it is referred to.
fn things_on_board(bundle: &Bundle, setup: &model::Setup) -> Result<(), DocumentError> {
    for pack in setup.supply.strings.iter().flat_map(|string| &string.packs) {
        let of = match pack {
            PackRef::Type(id) => id,
            PackRef::Pack(id) => {
                let Some((index, own)) = model::Pack::find(bundle, id) else { continue };
                let under = |fault: DocumentError| fault.under(&format!("packs[{index}]"));
                supply::health_of_pack(own).map_err(under)?;
                referred::<PackType>(bundle, "pack_type", &own.pack_type).map_err(under)?;
                &own.pack_type
            }
        };
        if let Some((index, of)) = PackType::find(bundle, of) {
            supply::pack_type(of).map_err(|fault| fault.under(&format!("pack_types[{index}]")))?;
        }
    }
    let on_board = setup.load.iter().filter(|load| load.on);
    for (index, item) in on_board.filter_map(|load| model::Item::find(bundle, &load.item)) {
        resolve_item(item).map_err(|fault| fault.under(&format!("items[{index}]")))?;
    }
    Ok(())
}

/// The payload that is on board; paths below the setup.
fn payload(bundle: &Bundle, setup: &model::Setup) -> Result<Vec<Item>, DocumentError> {
    let mut items = Vec::new();
    for (index, load) in setup.load.iter().enumerate().filter(|(_, load)| load.on) {
        let path = format!("load[{index}].item");
        let (_, item) = referred::<model::Item>(bundle, &path, &load.item)?;
        items.push(resolve_item(item).map_err(|fault| fault.under(&path))?);
    }
    Ok(items)
}
