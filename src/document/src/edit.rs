//! Changes to the lists, as pure functions from bundle to bundle: the app keeps the old one to undo.

use crate::error::DocumentError;
use crate::model::{Bundle, DayPlan, Profile, Reserve, Setup, Supply};
use crate::record::{List, Record, fresh_id};

/// A bundle with one more setup from scratch, and its id.
///
/// What a crew must choose (airframe, packs, site) is left open; its card names what is missing. The rest has usual values:
/// 20 % reserve and 3.3 V loaded floor, a set 30 m up and 100 m out (common practice, no source).
pub fn new_setup(bundle: &Bundle, name: &str) -> (Bundle, String) {
    let setup = Setup {
        name: name.to_owned(),
        airframe: only(List::Airframes, bundle),
        supply: usual_supply(),
        profile: usual_profile(),
        reserve: Reserve { share_percent: 20.0, loaded_cell_floor_v: 3.3, ..Reserve::default() },
        site: only(List::Sites, bundle),
        ..Setup::default()
    };
    add(bundle, setup, "setup")
}

/// A bundle with one more day from scratch, and its id: from eight to six, ten minutes' turn-round, twenty minutes' cooling, two chargers
/// of 1,200 W (common practice, no source).
pub fn new_day(bundle: &Bundle, name: &str) -> (Bundle, String) {
    let day = DayPlan {
        name: name.to_owned(),
        start: "08:00".to_owned(),
        wrap: "18:00".to_owned(),
        turn_round_min: 10.0,
        cool_down_min: 20.0,
        chargers: 2,
        charger_power_w: 1200.0,
        charger_current_a: 20.0,
        charger_efficiency_percent: 87.0,
        supply: "mains".to_owned(),
        ..DayPlan::default()
    };
    add(bundle, day, "day")
}

/// The only one there is, else none chosen.
fn only(list: List, bundle: &Bundle) -> String {
    match list.names(bundle).as_slice() {
        [(id, _)] => id.clone(),
        _ => String::new(),
    }
}

fn usual_supply() -> Supply {
    Supply {
        string_resistance_mohm: 3.0,
        bus_resistance_mohm: 1.0,
        auxiliary_power_w: 0.0,
        converter_efficiency: 0.9,
        meter: "bus".to_owned(),
        ..Supply::default()
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
        ..Profile::default()
    }
}

/// A bundle with `thing` added under a fresh id made of `stem`, and that id.
pub fn add<T: Record>(bundle: &Bundle, mut thing: T, stem: &str) -> (Bundle, String) {
    let id = fresh_id(&T::LIST.names(bundle), stem);
    thing.set_id(id.clone());
    let mut bundle = bundle.clone();
    T::list_mut(&mut bundle).push(thing);
    (bundle, id)
}

/// A bundle with a copy of a thing right after it, under a fresh id and the given name; and that id.
///
/// # Errors
/// `UnknownReference` for an unknown id.
pub fn copy(list: List, bundle: &Bundle, id: &str, name: &str) -> Result<(Bundle, String), DocumentError> {
    let place = place(list, bundle, id)? + 1;
    let new_id = fresh_id(&list.names(bundle), id);
    let mut copied = bundle.clone();
    let things = list.of_mut(&mut copied);
    things.put_copy(place, bundle, id, new_id.clone());
    things.set_name(place, name.to_owned());
    Ok((copied, new_id))
}

/// A bundle without a thing.
///
/// # Errors
/// `UnknownReference` for an unknown id, `InUse` with the names of what refers to it.
pub fn delete(list: List, bundle: &Bundle, id: &str) -> Result<Bundle, DocumentError> {
    let place = place(list, bundle, id)?;
    let used_by: Vec<String> = list.used_by(bundle, id).into_iter().map(|(_, name)| name).collect();
    if !used_by.is_empty() {
        let path = format!("{}[{place}]", list.key());
        return Err(DocumentError::InUse { path, id: id.to_owned(), used_by });
    }
    let mut left = bundle.clone();
    list.of_mut(&mut left).take_out(place);
    Ok(left)
}

fn place(list: List, bundle: &Bundle, id: &str) -> Result<usize, DocumentError> {
    let unknown = || DocumentError::UnknownReference { path: list.key().to_owned(), id: id.to_owned() };
    list.of(bundle).place(id).ok_or_else(unknown)
}
