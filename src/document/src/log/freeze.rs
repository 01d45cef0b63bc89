//! Frozen copies of setups, and back.

use std::sync::Arc;

use liftmargin_core::air::Site;
use liftmargin_core::card::Setup;

use crate::error::DocumentError;
use crate::model::{Bundle, Flight, FlownSetup, Frozen};
use crate::open::{open, to_value};
use crate::record::{List, Record, closed, fresh_id};
use crate::resolve::{referred, resolve};

/// `into` with a frozen copy of a setup of `bundle` and all that it refers to, and the copy's id. One that is there already
/// word for word is not doubled.
///
/// # Errors
/// `UnknownReference` for an unknown setup, `Refused` for a number that JSON cannot hold.
pub fn freeze(into: &Bundle, bundle: &Bundle, setup_id: &str) -> Result<(Bundle, String), DocumentError> {
    let alone = closed(bundle, setup_id)?;
    let as_flown = Frozen(Arc::new(to_value(&alone)?));
    let name = List::Setups.name(bundle, setup_id).unwrap_or_default();
    let is_same = |there: &&FlownSetup| there.setup == setup_id && there.as_flown == as_flown;
    if let Some(there) = into.flown_setups.iter().find(is_same) {
        return Ok((into.clone(), there.id.clone()));
    }
    let id = fresh_id(&List::FlownSetups.names(into), &format!("{setup_id}-flown"));
    let mut with_copy = into.clone();
    with_copy.flown_setups.push(FlownSetup {
        id: id.clone(),
        name,
        setup: setup_id.to_owned(),
        as_flown,
        ..FlownSetup::default()
    });
    Ok((with_copy, id))
}

/// The file inside a flight: its setup with what it refers to, and which of its setups was flown. A flight without a copy
/// is of the setup that it names, as that stands in the bundle now.
///
/// # Errors
/// `Missing` and `UnknownReference` where there is neither, and whatever keeps the copy from being read.
pub fn flown_bundle(bundle: &Bundle, flight: &Flight) -> Result<(Bundle, String), DocumentError> {
    if flight.flown_setup.is_empty() {
        referred::<crate::model::Setup>(bundle, "setup", &flight.setup)?;
        return closed(bundle, &flight.setup).map(|alone| (alone, flight.setup.clone()));
    }
    let (place, copy) = referred::<FlownSetup>(bundle, "flown_setup", &flight.flown_setup)?;
    let under = |fault: DocumentError| fault.under(&format!("flown_setups[{place}].as_flown"));
    // As a file: one of an earlier schema is lifted.
    let opened = open(&copy.as_flown.0.to_string()).map_err(under)?;
    Ok((opened.bundle, copy.setup.clone()))
}

/// Setup and site of a flight as core's parameters, with the correction that was in force, or without any.
///
/// # Errors
/// As `flown_bundle`, and any fault of the copy.
pub fn resolve_flown(
    bundle: &Bundle,
    flight: &Flight,
    with_correction: bool,
) -> Result<(Setup, Site), DocumentError> {
    let (mut alone, setup) = flown_bundle(bundle, flight)?;
    if !with_correction {
        alone.airframes.iter_mut().for_each(|airframe| airframe.correction = None);
    }
    resolve(&alone, &setup)
}

/// A bundle without the frozen copies that no flight refers to.
pub(super) fn without_unused(bundle: &mut Bundle) {
    let flights = &bundle.flights;
    bundle.flown_setups.retain(|copy| flights.iter().any(|flight| flight.flown_setup == copy.id()));
}
