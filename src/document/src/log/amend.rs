//! Which setup an entry was of, and where: put right later. The copy as flown is never changed: the entry gets another one,
//! and other flights keep theirs.

use super::entry::taught_by;
use super::freeze::{flown_bundle, freeze, without_unused};
use super::learned::relearn;
use crate::error::DocumentError;
use crate::model::{Bundle, Flight, Setup, Site};
use crate::record::Record;
use crate::resolve::referred;

/// A bundle in which an entry was of another setup, as that stands now.
///
/// # Errors
/// `UnknownReference` for an unknown flight or setup.
pub fn was_of_setup(
    bundle: &Bundle,
    flight_id: &str,
    setup_id: &str,
    now_unix_ms: f64,
) -> Result<Bundle, DocumentError> {
    let (_, flight) = referred::<Flight>(bundle, "flight", flight_id)?;
    let (_, setup) = referred::<Setup>(bundle, "setup", setup_id)?;
    let airframe_before = flight.airframe.clone();
    let (mut amended, copy) = freeze(bundle, bundle, setup_id)?;
    if let Some(flight) = Flight::find_mut(&mut amended, flight_id) {
        flight.name.clone_from(&setup.name);
        flight.airframe.clone_from(&setup.airframe);
        setup_id.clone_into(&mut flight.setup);
        flight.place = Site::find(bundle, &setup.site).map(|(_, site)| site.name.clone()).unwrap_or_default();
        flight.flown_setup = copy;
    }
    without_unused(&mut amended);
    let taught = taught_by(amended, flight_id, now_unix_ms);
    // The one that it was taken for forgets it.
    Ok(relearn(&taught, &airframe_before, now_unix_ms).unwrap_or(taught))
}

/// A bundle in which an entry was flown at another site, as that stands now; all else stays as flown.
///
/// # Errors
/// `UnknownReference` for an unknown flight or site, and whatever keeps the copy from being read.
pub fn was_at_site(
    bundle: &Bundle,
    flight_id: &str,
    site_id: &str,
    now_unix_ms: f64,
) -> Result<Bundle, DocumentError> {
    let (_, flight) = referred::<Flight>(bundle, "flight", flight_id)?;
    let (_, site) = referred::<Site>(bundle, "site", site_id)?;
    let (mut alone, setup_id) = flown_bundle(bundle, flight)?;
    alone.sites = vec![site.clone()];
    if let Some(setup) = Setup::find_mut(&mut alone, &setup_id) {
        site_id.clone_into(&mut setup.site);
    }
    let (mut amended, copy) = freeze(bundle, &alone, &setup_id)?;
    if let Some(flight) = Flight::find_mut(&mut amended, flight_id) {
        flight.place.clone_from(&site.name);
        flight.flown_setup = copy;
    }
    without_unused(&mut amended);
    Ok(taught_by(amended, flight_id, now_unix_ms))
}
