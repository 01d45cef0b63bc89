//! Changes to the lists, as pure functions from bundle to bundle: the app keeps the old one to undo.

use crate::error::DocumentError;
use crate::listed::{List, Listed, fresh_id, ids, of_list};
use crate::resolve::referred;
use crate::schema::{Airframe, Bundle, Item, Pack, Profile, Reserve, Setup, Site, Supply};

/// A thing with its place in its list: what is needed to put it back.
#[derive(Debug, Clone, PartialEq)]
pub struct Deleted<T> {
    /// Where it stood.
    pub index: usize,
    /// The thing.
    pub thing: T,
}

/// A bundle with one more setup from scratch, and its id.
///
/// What a crew must choose (airframe, packs, site) is left open; `missing` names it. The rest has usual values:
/// 20 % reserve and 3.3 V loaded floor, a set 30 m up and 100 m out (common practice, no source).
pub fn new_setup(bundle: &Bundle, name: &str) -> (Bundle, String) {
    let setup = Setup {
        id: String::new(),
        name: name.to_owned(),
        airframe: only(bundle, ids::<Airframe>),
        supply: usual_supply(),
        load: Vec::new(),
        profile: usual_profile(),
        reserve: Reserve { share_percent: 20.0, time_s: None, charge_mah: None, loaded_cell_floor_v: 3.3 },
        site: only(bundle, ids::<Site>),
    };
    add(bundle, setup, "setup")
}

/// The only one there is, else none chosen.
fn only(bundle: &Bundle, ids: fn(&Bundle) -> Vec<&str>) -> String {
    match ids(bundle).as_slice() {
        [id] => (*id).to_owned(),
        _ => String::new(),
    }
}

fn usual_supply() -> Supply {
    Supply {
        strings: Vec::new(),
        position_m: [0.0; 3],
        pack_temperature_c: 20.0,
        rest_cell_voltage_v: None,
        string_resistance_mohm: 3.0,
        bus_resistance_mohm: 1.0,
        auxiliary_power_w: 0.0,
        converter_efficiency: 0.9,
        meter: "bus".to_owned(),
        meter_error_percent: 0.0,
    }
}

fn usual_profile() -> Profile {
    Profile {
        warm_up_s: 30.0,
        height_m: 30.0,
        distance_m: 100.0,
        climb_rate_m_s: 2.0,
        descent_rate_m_s: 1.5,
        transit_airspeed_m_s: 8.0,
        manoeuvre_allowance_percent: 10.0,
        landing_s: 20.0,
        go_around_s: 30.0,
    }
}

/// A bundle with `thing` added under a fresh id made of `stem`, and that id.
pub fn add<T: Listed>(bundle: &Bundle, mut thing: T, stem: &str) -> (Bundle, String) {
    let id = fresh_id(&ids::<T>(bundle), stem);
    thing.set_id(id.clone());
    let mut bundle = bundle.clone();
    T::list_mut(&mut bundle).push(thing);
    (bundle, id)
}

/// A bundle with a copy of a thing right after it, under a fresh id and the given name; and that id.
///
/// # Errors
/// `UnknownReference` for an unknown id.
pub fn copy<T: Listed>(bundle: &Bundle, id: &str, name: &str) -> Result<(Bundle, String), DocumentError> {
    let (index, thing) = referred::<T>(bundle, T::LIST, id)?;
    let mut thing = thing.clone();
    let new_id = fresh_id(&ids::<T>(bundle), id);
    thing.set_id(new_id.clone());
    thing.set_name(name.to_owned());
    let mut bundle = bundle.clone();
    T::list_mut(&mut bundle).insert(index + 1, thing);
    Ok((bundle, new_id))
}

/// As `copy`, for a list that is a value.
///
/// # Errors
/// `UnknownReference` for an unknown id.
pub fn copy_in(list: List, bundle: &Bundle, id: &str, name: &str) -> Result<(Bundle, String), DocumentError> {
    of_list!(list, T => copy::<T>(bundle, id, name))
}

/// As `delete`, for a list that is a value; gives the name of the deleted thing.
///
/// # Errors
/// As `delete`.
pub fn delete_in(list: List, bundle: &Bundle, id: &str) -> Result<(Bundle, String), DocumentError> {
    of_list!(list, T => delete::<T>(bundle, id).map(|(bundle, deleted)| (bundle, deleted.thing.name)))
}

/// A bundle in which a thing has another name.
///
/// # Errors
/// `UnknownReference` for an unknown id.
pub fn rename<T: Listed>(bundle: &Bundle, id: &str, name: &str) -> Result<Bundle, DocumentError> {
    let (index, _) = referred::<T>(bundle, T::LIST, id)?;
    let mut bundle = bundle.clone();
    T::list_mut(&mut bundle).iter_mut().skip(index).take(1).for_each(|thing| thing.set_name(name.to_owned()));
    Ok(bundle)
}

/// A bundle without a thing, and the thing, to put it back.
///
/// # Errors
/// `UnknownReference` for an unknown id, `InUse` with the names of the setups that refer to it.
pub fn delete<T: Listed>(bundle: &Bundle, id: &str) -> Result<(Bundle, Deleted<T>), DocumentError> {
    let (index, _) = referred::<T>(bundle, T::LIST, id)?;
    let used_by: Vec<String> = used_by::<T>(bundle, id).into_iter().map(|setup| setup.name.clone()).collect();
    if !used_by.is_empty() {
        let path = format!("{}[{index}]", T::LIST);
        return Err(DocumentError::InUse { path, id: id.to_owned(), used_by });
    }
    let mut bundle = bundle.clone();
    let thing = T::list_mut(&mut bundle).remove(index);
    Ok((bundle, Deleted { index, thing }))
}

/// A bundle with a deleted thing put back where it stood; under a fresh id if its own is taken by now.
pub fn restore<T: Listed>(bundle: &Bundle, deleted: &Deleted<T>) -> Bundle {
    let mut thing = deleted.thing.clone();
    thing.set_id(fresh_id(&ids::<T>(bundle), thing.id()));
    let mut bundle = bundle.clone();
    let list = T::list_mut(&mut bundle);
    list.insert(deleted.index.min(list.len()), thing);
    bundle
}

/// The setups that refer to a thing.
pub fn used_by<'a, T: Listed>(bundle: &'a Bundle, id: &str) -> Vec<&'a Setup> {
    bundle.setups.iter().filter(|setup| references::<T>(setup).contains(&id)).collect()
}

/// The ids of a list that a setup refers to.
fn references<T: Listed>(setup: &Setup) -> Vec<&str> {
    match T::LIST {
        "airframes" => vec![&setup.airframe],
        "packs" => setup.supply.strings.iter().flatten().map(String::as_str).collect(),
        "items" => setup.load.iter().map(|load| load.item.as_str()).collect(),
        "sites" => vec![&setup.site],
        _ => Vec::new(),
    }
}

/// What must still be chosen before a setup has a card.
///
/// # Errors
/// `UnknownReference` for an unknown setup.
pub fn missing(bundle: &Bundle, setup_id: &str) -> Result<Vec<DocumentError>, DocumentError> {
    let (index, setup) = referred::<Setup>(bundle, "setups", setup_id)?;
    let strings = &setup.supply.strings;
    let no_packs = strings.is_empty()
        || strings.iter().any(|string| string.is_empty() || string.contains(&String::new()));
    let open = [
        (setup.airframe.is_empty(), "airframe", "one of the airframes of the file"),
        (no_packs, "supply.strings", "at least one pack in each string"),
        (setup.load.iter().any(|load| load.on && load.item.is_empty()), "load", "an item in each place"),
        (setup.site.is_empty(), "site", "one of the sites of the file"),
    ];
    Ok(open
        .into_iter()
        .filter(|(open, ..)| *open)
        .map(|(_, path, allowed)| DocumentError::Missing {
            path: path.to_owned(),
            allowed: allowed.to_owned(),
        })
        .map(|missing| missing.under(&format!("setups[{index}]")))
        .collect())
}
