//! What the log teaches as plain data: what the `correct` example prints.

use serde::Serialize;

use super::learned::{AirframeLog, learn};
use crate::error::DocumentError;
use crate::model::Bundle;
use crate::record::List;

/// The correction of one airframe.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[allow(missing_docs, reason = "each name says what it holds")]
pub struct CorrectionReport {
    pub airframe: String,
    /// Flights that it rests on.
    pub flights: usize,
    /// Power over the model's: half of what is plausible lies below.
    pub factor: f64,
    /// What a card uses: no less power than nine in ten of what is plausible assure.
    pub assured_factor: f64,
    /// Standard deviation of its logarithm.
    pub spread: f64,
    pub interval_80: [f64; 2],
    pub interval_90: [f64; 2],
    pub taught: Vec<TaughtReport>,
    pub odd: Vec<OddReport>,
    pub left_out: Vec<LeftOutReport>,
}

/// One flight that it rests on.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[allow(missing_docs, reason = "each name says what it holds")]
pub struct TaughtReport {
    pub flight: String,
    pub power_factor: f64,
    pub reading_spread: f64,
}

/// A flight far from the others.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[allow(missing_docs, reason = "each name says what it holds")]
pub struct OddReport {
    pub flight: String,
    pub over_the_others: f64,
    pub deviations: f64,
    pub reason: String,
}

/// A flight that teaches nothing.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[allow(missing_docs, reason = "each name says what it holds")]
pub struct LeftOutReport {
    pub flight: String,
    pub reason: String,
}

/// The corrections of a file: of the airframe that its field `airframe` names, else of each that has flights. Each flight is
/// predicted anew. Old flights fade from `now_unix_ms` in the file, else from the last flight on.
///
/// # Errors
/// `Missing` without a flight, and whatever keeps an airframe from being resolved.
pub fn corrections(bundle: &Bundle) -> Result<Vec<CorrectionReport>, DocumentError> {
    let wanted = bundle.extra.get("airframe").and_then(serde_json::Value::as_str);
    let latest = bundle.flights.iter().map(|flight| flight.lift_off_unix_ms).fold(0.0, f64::max);
    let now = bundle.extra.get("now_unix_ms").and_then(serde_json::Value::as_f64).unwrap_or(latest);
    let flown = |id: &str| bundle.flights.iter().any(|flight| flight.airframe == id);
    let ids: Vec<String> = match wanted {
        Some(id) => vec![id.to_owned()],
        None => List::Airframes.names(bundle).into_iter().map(|(id, _)| id).filter(|id| flown(id)).collect(),
    };
    if ids.is_empty() {
        return Err(DocumentError::Missing {
            path: "flights".to_owned(),
            allowed: "flights of an airframe of the file".to_owned(),
        });
    }
    ids.into_iter().map(|id| learn(bundle, &id, now, true).map(|log| of(id, &log))).collect()
}

fn of(airframe: String, log: &AirframeLog) -> CorrectionReport {
    let correction = &log.correction;
    let pair = |interval: [liftmargin_core::units::Ratio; 2]| interval.map(|end| end.value);
    CorrectionReport {
        airframe,
        flights: correction.flights,
        factor: correction.median.value,
        assured_factor: correction.applied().value,
        spread: correction.spread.value,
        interval_80: pair(correction.interval_80),
        interval_90: pair(correction.interval_90),
        taught: log
            .taught
            .iter()
            .map(|one| TaughtReport {
                flight: one.id.clone(),
                power_factor: one.power_factor,
                reading_spread: one.reading_spread,
            })
            .collect(),
        odd: log
            .odd
            .iter()
            .map(|one| OddReport {
                flight: one.id.clone(),
                over_the_others: one.over_the_others,
                deviations: one.deviations,
                reason: one.reason.clone(),
            })
            .collect(),
        left_out: log
            .left_out
            .iter()
            .map(|one| LeftOutReport { flight: one.id.clone(), reason: one.reason.clone() })
            .collect(),
    }
}
