//! A flight followed reading by reading, as plain data: what the `fly_along` example prints.

use liftmargin_core::airborne::CautiousMarks;
use liftmargin_core::card::Prepared;
use liftmargin_core::limits::Thresholds;
use liftmargin_core::spread::Uncertainty;
use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::in_flight::{InFlight, Marks, follow, try_reading};
use super::plan::{Home, PlannedFlight};
use crate::card_report::{SAMPLES, SEED};
use crate::error::DocumentError;
use crate::model::{Aloft, Bundle, Flight, Reading};
use crate::quantity::refused;
use crate::resolve::resolve;
use crate::words::reading_doubt;

/// What the file asks beside its lists.
#[derive(Debug, Clone, PartialEq, Default, Deserialize)]
#[serde(deny_unknown_fields)]
struct Asked {
    /// Id of the setup; the only one without.
    #[serde(default)]
    setup: Option<String>,
    #[serde(default)]
    meter_start_mah: f64,
    readings: Vec<AskedReading>,
}

/// A reading, and the way home as it is from then on.
#[derive(Debug, Clone, PartialEq, Default, Deserialize)]
#[serde(deny_unknown_fields)]
struct AskedReading {
    time_s: f64,
    #[serde(default)]
    used_mah: Option<f64>,
    #[serde(default)]
    voltage_v: Option<f64>,
    #[serde(default)]
    confirmed: bool,
    #[serde(default)]
    distance_m: Option<f64>,
    #[serde(default)]
    wind_m_s: Option<f64>,
}

/// A flight followed.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[allow(missing_docs, reason = "each name says what it holds")]
pub struct FollowedReport {
    pub setup: String,
    pub planned: Marks,
    pub after: Vec<AfterReport>,
}

/// Where it stands after a reading.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[allow(missing_docs, reason = "each name says what it holds, with its unit")]
pub struct AfterReport {
    pub time_s: f64,
    pub taken: bool,
    /// Why it is asked back.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub asked_back: Option<DoubtReport>,
    /// The voltage is lower than the model can explain.
    pub weak_packs: bool,
    pub used_mah: f64,
    pub over_plan_mah: f64,
    pub rate: f64,
    pub rate_spread: f64,
    pub capacity: f64,
    pub capacity_spread: f64,
    /// There is no way home from there in that wind.
    #[serde(skip_serializing_if = "core::ops::Not::not")]
    pub no_way_home: bool,
    pub middle: Marks,
    pub cautious: Marks,
    /// Keys of the alarms that sound then, the most urgent first.
    pub sounding: Vec<&'static str>,
}

/// Why a reading is asked back.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[allow(missing_docs, reason = "each name says what it holds")]
pub struct DoubtReport {
    pub kind: &'static str,
    pub words: String,
}

/// Follows the setup of a file by the readings in its field `fly_along`.
///
/// # Errors
/// `Missing` and `WrongShape` for what is asked, and whatever keeps the setup from being flown.
pub fn fly_along(bundle: &Bundle) -> Result<FollowedReport, DocumentError> {
    let asked = asked(bundle)?;
    let setup_id = setup_id(bundle, asked.setup.as_deref())?;
    let (setup, site) = resolve(bundle, &setup_id)?;
    let of_core = |refusal| refused("fly_along", refusal);
    let thresholds = Thresholds::default();
    let uncertainty = Uncertainty::for_airframe(&setup.airframe);
    let sampler = Prepared::new(&setup, &site, &thresholds)
        .and_then(|prepared| prepared.sampler(&uncertainty, SEED))
        .map_err(of_core)?;
    let cautious = sampler
        .and_then(|sampler| sampler.cautious(SAMPLES))
        .map(|cautious| CautiousMarks { land_by: cautious.land_by, turn_back: cautious.turn_back });
    let plan = PlannedFlight::new(&setup, &site, cautious).map_err(of_core)?.ok_or_else(|| {
        DocumentError::Contradiction {
            path: "fly_along.setup".to_owned(),
            value: setup_id.clone(),
            allowed: "a setup that flies".to_owned(),
        }
    })?;
    let aloft = Aloft { meter_start_mah: asked.meter_start_mah, ..Aloft::default() };
    let mut flight = Flight { aloft: Some(aloft), ..Flight::default() };
    let planned = follow(&plan, &flight, Home::Planned, 0.0).map_err(of_core)?.planned;
    let mut after = Vec::new();
    for one in &asked.readings {
        let reading = Reading {
            time_s: one.time_s,
            used_mah: one.used_mah,
            voltage_v: one.voltage_v,
            confirmed: one.confirmed,
            ..Reading::default()
        };
        let taken = try_reading(&plan, &flight, &reading);
        if taken.is_ok() {
            flight.readings.push(reading);
        }
        let elsewhere = (one.distance_m, one.wind_m_s);
        let home = PlannedFlight::home(&setup, &site, elsewhere, one.time_s).map_err(of_core)?;
        let no_way_home = matches!(home, Home::None { .. });
        let at = follow(&plan, &flight, home, 1000.0 * one.time_s).map_err(of_core)?;
        let doubt = taken.err().map(|doubt| DoubtReport { kind: doubt.key(), words: reading_doubt(&doubt) });
        after.push(report(one.time_s, doubt, taken.is_ok_and(|taken| taken.is_weak), no_way_home, &at));
    }
    Ok(FollowedReport { setup: setup_id, planned, after })
}

fn report(
    time_s: f64,
    asked_back: Option<DoubtReport>,
    weak_packs: bool,
    no_way_home: bool,
    at: &InFlight,
) -> AfterReport {
    AfterReport {
        time_s,
        taken: asked_back.is_none(),
        asked_back,
        weak_packs,
        used_mah: at.used_mah,
        over_plan_mah: at.over_plan_mah,
        rate: at.rate[0],
        rate_spread: at.rate[1],
        capacity: at.capacity[0],
        capacity_spread: at.capacity[1],
        no_way_home,
        middle: at.middle,
        cautious: at.cautious,
        sounding: at.sounding.iter().map(|kind| kind.key()).collect(),
    }
}

fn asked(bundle: &Bundle) -> Result<Asked, DocumentError> {
    let Some(value) = bundle.extra.get("fly_along") else {
        return Err(DocumentError::Missing {
            path: "fly_along".to_owned(),
            allowed: "an object with readings: time_s, used_mah, voltage_v".to_owned(),
        });
    };
    serde_path_to_error::deserialize::<&Value, Asked>(value).map_err(|error| DocumentError::WrongShape {
        path: crate::model::below("fly_along", &error.path().to_string()),
        value: crate::shape::shown(value),
        allowed: error.inner().to_string(),
    })
}

fn setup_id(bundle: &Bundle, asked: Option<&str>) -> Result<String, DocumentError> {
    match (asked, bundle.setups.as_slice()) {
        (Some(id), _) => Ok(id.to_owned()),
        (None, [only]) => Ok(only.id.clone()),
        (None, _) => Err(DocumentError::Missing {
            path: "fly_along.setup".to_owned(),
            allowed: "the id of one of the setups".to_owned(),
        }),
    }
}
