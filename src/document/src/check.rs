//! Everything that can be said about a bundle without computing a flight: ids, references, keys, ranges.

use crate::error::DocumentError;
use crate::ground;
use crate::keys;
use crate::model::{
    Airframe, Bundle, DayPlan, Flight, FlownSetup, Item, Pack, PackRef, PackType, Recording, Setup, Site,
    numbers,
};
use crate::record::Record;
use crate::resolve;

/// The first fault of each thing in the bundle, with its path. Choices not made yet are no fault.
pub fn faults(bundle: &Bundle) -> Vec<DocumentError> {
    let mut faults = Vec::new();
    each(bundle, &mut faults, airframe);
    each(bundle, &mut faults, |_, pack_type: &PackType| resolve::pack_type(pack_type).map(drop));
    each(bundle, &mut faults, |bundle, pack: &Pack| {
        known::<PackType>(bundle, "pack_type", &pack.pack_type)?;
        resolve::health_of_pack(pack).map(drop)
    });
    each(bundle, &mut faults, |_, item: &Item| {
        keys::item_kind("kind", &item.kind)?;
        resolve::resolve_item(item).map(drop)
    });
    each(bundle, &mut faults, |_, site: &Site| resolve::resolve_site(site).map(drop));
    each(bundle, &mut faults, setup);
    each(bundle, &mut faults, |_, _: &FlownSetup| Ok(()));
    each(bundle, &mut faults, flight);
    each(bundle, &mut faults, |bundle, recording: &Recording| {
        known::<Flight>(bundle, "flight", &recording.flight)
    });
    each(bundle, &mut faults, day_plan);
    faults
}

/// Holds every thing of a list against `check`, and its id against the ids before it.
fn each<T: Record>(
    bundle: &Bundle,
    faults: &mut Vec<DocumentError>,
    check: fn(&Bundle, &T) -> Result<(), DocumentError>,
) {
    let mut seen = std::collections::HashSet::new();
    for (index, thing) in T::list(bundle).iter().enumerate() {
        let own = if thing.id().is_empty() {
            Err(DocumentError::Missing { path: "id".to_owned(), allowed: "an id of its own".to_owned() })
        } else if !seen.insert(thing.id()) {
            Err(DocumentError::DuplicateId { path: "id".to_owned(), id: thing.id().to_owned() })
        } else {
            check(bundle, thing)
        };
        faults.extend(own.map_err(|fault| fault.under(&format!("{}[{index}]", T::LIST.key()))).err());
    }
}

fn flight(bundle: &Bundle, flight: &Flight) -> Result<(), DocumentError> {
    known::<Airframe>(bundle, "airframe", &flight.airframe)?;
    known::<FlownSetup>(bundle, "flown_setup", &flight.flown_setup)?;
    for number in [&numbers::FLOWN_MINUTES, &numbers::FLOWN_USED, &numbers::FLOWN_REST] {
        number.si_if_there(flight)?;
    }
    Ok(())
}

fn airframe(_: &Bundle, airframe: &Airframe) -> Result<(), DocumentError> {
    resolve::airframe_parts(airframe).map(drop)
}

fn setup(bundle: &Bundle, setup: &Setup) -> Result<(), DocumentError> {
    known::<Airframe>(bundle, "airframe", &setup.airframe)?;
    known::<Site>(bundle, "site", &setup.site)?;
    for (index, string) in setup.supply.strings.iter().enumerate() {
        for (place, pack) in string.packs.iter().enumerate() {
            let path = format!("supply.strings[{index}].packs[{place}]");
            match pack {
                PackRef::Type(id) => known::<PackType>(bundle, &path, id)?,
                PackRef::Pack(id) => known::<Pack>(bundle, &path, id)?,
            }
        }
        resolve::string_start(string)
            .map(drop)
            .map_err(|fault| fault.under(&format!("supply.strings[{index}]")))?;
    }
    for (index, load) in setup.load.iter().enumerate() {
        known::<Item>(bundle, &format!("load[{index}].item"), &load.item)?;
    }
    resolve::wiring(setup).map(drop)?;
    resolve::profile(setup).map(drop)?;
    resolve::reserve(setup).map(drop)
}

fn day_plan(bundle: &Bundle, day: &DayPlan) -> Result<(), DocumentError> {
    for (index, sets) in day.sets.iter().enumerate() {
        known::<Setup>(bundle, &format!("sets[{index}].setup"), &sets.setup)?;
    }
    for (index, flight) in day.flights.iter().enumerate() {
        known::<Setup>(bundle, &format!("flights[{index}].setup"), &flight.setup)?;
    }
    ground::frame(day).map(drop)
}

/// A reference that is either not chosen yet or refers to something.
fn known<T: Record>(bundle: &Bundle, path: &str, id: &str) -> Result<(), DocumentError> {
    if id.is_empty() { Ok(()) } else { resolve::referred::<T>(bundle, path, id).map(drop) }
}
