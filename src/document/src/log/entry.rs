//! Entries of the log: begun at lift-off, ended by landing, made by hand, left out by a person, deleted.

use super::freeze::{freeze, without_unused};
use super::learned::relearn;
use super::predict::predict;
use crate::airborne::starting_at;
use crate::edit;
use crate::error::DocumentError;
use crate::ground::landing::count_landing;
use crate::model::{Airframe, Aloft, Bundle, Flight, Points, Recording, Setup, Site};
use crate::record::Record;
use crate::resolve::referred;
use crate::trace::Trace;

/// What is known at lift-off.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct LiftOff {
    /// Milliseconds since 1970 by the wall clock.
    pub now_unix_ms: f64,
    /// What the meter showed before the motors started.
    pub meter_start_mah: f64,
    /// The card's cautious land-by.
    pub cautious_land_by_mah: Option<f64>,
    /// The card's cautious turn-back.
    pub cautious_turn_back_mah: Option<f64>,
    /// Of one cell before this flight, where it flies on with packs that were flown.
    pub rest_cell_voltage_v: Option<f64>,
}

/// What is known after landing.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Landing {
    /// From lift-off to touchdown.
    pub flight_time_s: f64,
    /// Of this flight, by the meter.
    pub used_mah: Option<f64>,
    /// What the meter shows.
    pub meter_after_mah: Option<f64>,
    /// Of one cell at rest.
    pub rest_cell_voltage_v: Option<f64>,
    /// What the crew wants to remember.
    pub remark: String,
    /// Milliseconds since 1970.
    pub now_unix_ms: f64,
}

/// The flight in the air, if there is one: the one that lifted off last.
pub fn in_the_air(bundle: &Bundle) -> Option<&Flight> {
    let aloft = bundle.flights.iter().filter(|flight| flight.aloft.is_some());
    aloft.max_by(|one, other| one.lift_off_unix_ms.total_cmp(&other.lift_off_unix_ms))
}

/// `flown` is the bundle whose setup is flown: with the what-if, with the packs as they are.
fn begun(
    bundle: &Bundle,
    flown: &Bundle,
    setup_id: &str,
    unix_ms: f64,
) -> Result<(Bundle, Flight), DocumentError> {
    let (_, setup) = referred::<Setup>(flown, "setup", setup_id)?;
    let place = Site::find(flown, &setup.site).map(|(_, site)| site.name.clone()).unwrap_or_default();
    let flight = Flight {
        name: setup.name.clone(),
        airframe: setup.airframe.clone(),
        setup: setup_id.to_owned(),
        place,
        lift_off_unix_ms: unix_ms,
        ..Flight::default()
    };
    let (frozen, flown_setup) = freeze(bundle, flown, setup_id)?;
    Ok((frozen, Flight { flown_setup, ..flight }))
}

/// A bundle with a flight that has just lifted off, its setup frozen; and the flight's id. `flown` is the bundle whose setup
/// is flown: the same one, or the same with a what-if.
///
/// # Errors
/// As `freeze`.
pub fn lift_off(
    bundle: &Bundle,
    flown: &Bundle,
    setup_id: &str,
    at: LiftOff,
) -> Result<(Bundle, String), DocumentError> {
    let started = at.rest_cell_voltage_v.map(|rest| starting_at(flown, setup_id, rest));
    let (frozen, mut flight) = begun(bundle, started.as_ref().unwrap_or(flown), setup_id, at.now_unix_ms)?;
    "airborne".clone_into(&mut flight.source);
    flight.aloft = Some(Aloft {
        meter_start_mah: at.meter_start_mah,
        cautious_land_by_mah: at.cautious_land_by_mah,
        cautious_turn_back_mah: at.cautious_turn_back_mah,
        flies_on: at.rest_cell_voltage_v.is_some(),
        ..Aloft::default()
    });
    Ok(edit::add(&frozen, flight, "flight"))
}

/// A bundle with one more entry, made by hand from a setup as it stands now; and its id.
///
/// # Errors
/// As `freeze`.
pub fn by_hand(
    bundle: &Bundle,
    setup_id: &str,
    lift_off_unix_ms: f64,
    landing: &Landing,
) -> Result<(Bundle, String), DocumentError> {
    let (frozen, mut flight) = begun(bundle, bundle, setup_id, lift_off_unix_ms)?;
    "by-hand".clone_into(&mut flight.source);
    let (mut with, id) = edit::add(&frozen, flight, "flight");
    end(&mut with, &id, landing)?;
    Ok((taught_by(with, &id, landing.now_unix_ms), id))
}

/// A bundle with one more entry, of a recording that ended now, of a setup as it stands; the recording is kept beside it.
///
/// # Errors
/// As `freeze`.
pub fn of_recording(
    bundle: &Bundle,
    setup_id: &str,
    name: &str,
    trace: &Trace,
    now_unix_ms: f64,
) -> Result<(Bundle, String), DocumentError> {
    let landing = Landing {
        flight_time_s: trace.totals.duration_s,
        used_mah: trace.totals.used_mah,
        meter_after_mah: None,
        rest_cell_voltage_v: None,
        remark: name.to_owned(),
        now_unix_ms,
    };
    let start = now_unix_ms - 1000.0 * trace.totals.duration_s;
    let (mut with, id) = by_hand(bundle, setup_id, start, &landing)?;
    if let Some(flight) = Flight::find_mut(&mut with, &id) {
        "trace".clone_into(&mut flight.source);
        flight.recording = Some(trace.totals.clone());
    }
    let points = Points::of(&trace.points);
    let recording = Recording { name: name.to_owned(), flight: id.clone(), points, ..Recording::default() };
    Ok((edit::add(&with, recording, &id).0, id))
}

/// The recording of a flight, where one is kept.
pub fn recording_of<'a>(bundle: &'a Bundle, flight_id: &str) -> Option<&'a Recording> {
    bundle.recordings.iter().find(|recording| recording.flight == flight_id)
}

/// A bundle in which a flight has landed: its packs counted, it predicted, and its airframe's correction learned anew.
///
/// # Errors
/// `UnknownReference` for an unknown flight.
pub fn land(bundle: &Bundle, flight_id: &str, landing: &Landing) -> Result<Bundle, DocumentError> {
    let mut landed = bundle.clone();
    let (_, flight) = referred::<Flight>(bundle, "flight", flight_id)?;
    count_landing(&mut landed, flight, landing);
    end(&mut landed, flight_id, landing)?;
    Ok(taught_by(landed, flight_id, landing.now_unix_ms))
}

fn end(bundle: &mut Bundle, flight_id: &str, landing: &Landing) -> Result<(), DocumentError> {
    referred::<Flight>(bundle, "flight", flight_id)?;
    if let Some(flight) = Flight::find_mut(bundle, flight_id) {
        flight.aloft = None;
        flight.flight_time_s = Some(landing.flight_time_s);
        flight.used_mah = landing.used_mah;
        flight.meter_after_mah = landing.meter_after_mah;
        flight.rest_cell_voltage_v = landing.rest_cell_voltage_v;
        flight.remark.clone_from(&landing.remark);
    }
    Ok(())
}

/// Predicts a flight and learns from the log of its airframe. What cannot be predicted stays as it was entered: the log says
/// why it teaches nothing.
pub(super) fn taught_by(mut bundle: Bundle, flight_id: &str, now_unix_ms: f64) -> Bundle {
    let Some((_, flight)) = Flight::find(&bundle, flight_id) else { return bundle };
    let (predicted, airframe) = (predict(&bundle, flight).ok(), flight.airframe.clone());
    if let Some(flight) = Flight::find_mut(&mut bundle, flight_id) {
        flight.predicted = predicted;
    }
    relearn(&bundle, &airframe, now_unix_ms).unwrap_or(bundle)
}

/// A bundle in which an entry was edited by `change`: predicted and learned anew.
pub fn edited(
    bundle: &Bundle,
    flight_id: &str,
    now_unix_ms: f64,
    change: impl FnOnce(&mut Flight),
) -> Bundle {
    let mut edited = bundle.clone();
    if let Some(flight) = Flight::find_mut(&mut edited, flight_id) {
        change(flight);
    }
    taught_by(edited, flight_id, now_unix_ms)
}

/// A bundle in which a flight counts, or not, as a person decides.
pub fn exclude(bundle: &Bundle, flight_id: &str, excluded: bool, now_unix_ms: f64) -> Bundle {
    edited(bundle, flight_id, now_unix_ms, |flight| flight.excluded = excluded)
}

/// A bundle without an entry, nor its recording, nor the frozen copy that no other needs; learned anew.
///
/// # Errors
/// `UnknownReference` for an unknown flight.
pub fn delete(bundle: &Bundle, flight_id: &str, now_unix_ms: f64) -> Result<Bundle, DocumentError> {
    let (_, flight) = referred::<Flight>(bundle, "flight", flight_id)?;
    let airframe = flight.airframe.clone();
    let mut left = bundle.clone();
    left.recordings.retain(|recording| recording.flight != flight_id);
    left = edit::delete(crate::record::List::Flights, &left, flight_id)?;
    without_unused(&mut left);
    Ok(relearn(&left, &airframe, now_unix_ms).unwrap_or(left))
}

/// A bundle in which an airframe's correction is on or off, and old flights fade or not; learned anew.
pub fn set_correction(
    bundle: &Bundle,
    airframe_id: &str,
    on: bool,
    fading_days: Option<f64>,
    now_unix_ms: f64,
) -> Bundle {
    let mut set = bundle.clone();
    if let Some(airframe) = Airframe::find_mut(&mut set, airframe_id) {
        let learned = airframe.correction.get_or_insert_default();
        learned.fading_days = fading_days;
    }
    let mut learned = relearn(&set, airframe_id, now_unix_ms).unwrap_or(set);
    if let Some(correction) =
        Airframe::find_mut(&mut learned, airframe_id).and_then(|one| one.correction.as_mut())
    {
        correction.on = on;
    }
    learned
}
