//! Everything that can be said about a bundle without computing a flight: ids, references, keys, ranges.

use liftmargin_core::units::ThermodynamicTemperature;

use crate::error::DocumentError;
use crate::keys;
use crate::record::Record;
use crate::resolve;
use crate::schema::{Airframe, Bundle, Item, Pack, Setup, Site};

/// The first fault of each thing in the bundle, with its path. Choices not made yet are no fault.
pub fn faults(bundle: &Bundle) -> Vec<DocumentError> {
    let mut faults = Vec::new();
    each(bundle, &mut faults, airframe);
    each(bundle, &mut faults, |_, pack| resolve::pack(pack, ThermodynamicTemperature::default()).map(drop));
    each(bundle, &mut faults, |_, item: &Item| {
        keys::index("kind", &item.kind, keys::ITEM_KINDS)?;
        resolve::resolve_item(item).map(drop)
    });
    each(bundle, &mut faults, |_, site: &Site| resolve::resolve_site(site).map(drop));
    each(bundle, &mut faults, setup);
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
        faults.extend(own.map_err(|fault| fault.under(&format!("{}[{index}]", T::LIST))).err());
    }
}

fn airframe(_: &Bundle, airframe: &Airframe) -> Result<(), DocumentError> {
    resolve::airframe_parts(airframe).map(drop)
}

fn setup(bundle: &Bundle, setup: &Setup) -> Result<(), DocumentError> {
    known::<Airframe>(bundle, "airframe", &setup.airframe)?;
    known::<Site>(bundle, "site", &setup.site)?;
    for (string, ids) in setup.supply.strings.iter().enumerate() {
        for (place, id) in ids.iter().enumerate() {
            known::<Pack>(bundle, &format!("supply.strings[{string}][{place}]"), id)?;
        }
    }
    for (index, load) in setup.load.iter().enumerate() {
        known::<Item>(bundle, &format!("load[{index}].item"), &load.item)?;
    }
    resolve::wiring(&setup.supply).map(drop).map_err(|fault| fault.under("supply"))?;
    resolve::profile(&setup.profile).map(drop).map_err(|fault| fault.under("profile"))?;
    resolve::reserve(&setup.reserve).map(drop).map_err(|fault| fault.under("reserve"))
}

/// A reference that is either not chosen yet or refers to something.
fn known<T: Record>(bundle: &Bundle, path: &str, id: &str) -> Result<(), DocumentError> {
    if id.is_empty() { Ok(()) } else { resolve::referred::<T>(bundle, path, id).map(drop) }
}
