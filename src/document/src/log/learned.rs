//! What the log teaches of one airframe.

use liftmargin_core::correction::{self, Correction, Flown, Prior, Scatter, reading_spread};
use liftmargin_core::spread::Uncertainty;
use liftmargin_core::units::{ElectricCharge, Ratio, Time};
use uom::si::electric_charge::milliampere_hour;
use uom::si::ratio::ratio;
use uom::si::time::{day, second};

use super::predict::{MODEL, predict};
use crate::error::DocumentError;
use crate::model::{Airframe, Bundle, Flight, Learned};
use crate::quantity::refused;
use crate::record::Record;
use crate::resolve::{referred, resolve_airframe};

/// What one flight says.
#[derive(Debug, Clone, PartialEq)]
pub struct Taught {
    /// The flight.
    pub id: String,
    /// Its shown name.
    pub name: String,
    /// Power that explains it, over the model's.
    pub power_factor: f64,
    /// One standard deviation by what was read.
    pub reading_spread: f64,
}

/// A flight far from what all say. It counts little as it is; only a person leaves it out.
#[derive(Debug, Clone, PartialEq)]
pub struct OddFlight {
    /// The flight.
    pub id: String,
    /// Its shown name.
    pub name: String,
    /// Its factor over what the flights together say.
    pub over_the_others: f64,
    /// How many of its expected deviations that is.
    pub deviations: f64,
    /// In a sentence.
    pub reason: String,
}

/// A flight that teaches nothing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LeftOut {
    /// The flight.
    pub id: String,
    /// Its shown name.
    pub name: String,
    /// Why.
    pub reason: String,
}

/// All of it.
#[derive(Debug, Clone, PartialEq)]
pub struct AirframeLog {
    /// The factor and its intervals.
    pub correction: Correction,
    /// The flights that it rests on.
    pub taught: Vec<Taught>,
    /// Those far from the others.
    pub odd: Vec<OddFlight>,
    /// Those that it does not rest on.
    pub left_out: Vec<LeftOut>,
}

/// What the flights of an airframe teach. `anew` predicts each flight again; else what its entry holds is taken where
/// today's model has said it.
///
/// # Errors
/// `UnknownReference` for an unknown airframe, and whatever keeps the airframe from being resolved.
pub fn learn(
    bundle: &Bundle,
    airframe_id: &str,
    now_unix_ms: f64,
    anew: bool,
) -> Result<AirframeLog, DocumentError> {
    let (place, airframe) = referred::<Airframe>(bundle, "airframe", airframe_id)?;
    let bare = Airframe { correction: None, ..airframe.clone() };
    let under = |fault: DocumentError| fault.under(&format!("airframes[{place}]"));
    let resolved = resolve_airframe(&bare).map_err(under)?.airframe;
    let since = airframe.correction.as_ref().and_then(|learned| learned.since_unix_ms);
    let (mut taught, mut flown, mut left_out) = (Vec::new(), Vec::new(), Vec::new());
    for flight in bundle.flights.iter().filter(|flight| flight.airframe == airframe_id) {
        match one(bundle, flight, since, now_unix_ms, anew) {
            Ok((said, datum)) => {
                taught.push(said);
                flown.push(datum);
            }
            Err(reason) => {
                left_out.push(LeftOut { id: flight.id.clone(), name: flight.name.clone(), reason });
            }
        }
    }
    let prior = Prior { spread: Uncertainty::for_airframe(&resolved).power };
    let fading = airframe.correction.as_ref().and_then(|learned| learned.fading_days);
    let half_life = fading.map(Time::new::<day>);
    let correction = correction::learn(&flown, &prior, &Scatter::default(), half_life)
        .map_err(|refusal| under(refused("correction", refusal)))?;
    let odd = correction.odd.iter().filter_map(|odd| odd_flight(odd, &taught)).collect();
    Ok(AirframeLog { correction, taught, odd, left_out })
}

fn one(
    bundle: &Bundle,
    flight: &Flight,
    since_unix_ms: Option<f64>,
    now_unix_ms: f64,
    anew: bool,
) -> Result<(Taught, Flown), String> {
    if since_unix_ms.is_some_and(|since| flight.lift_off_unix_ms < since) {
        return Err("from before the correction was begun anew".to_owned());
    }
    if flight.excluded {
        return Err("left out by a person".to_owned());
    }
    if flight.aloft.is_some() {
        return Err("still in the air".to_owned());
    }
    let known = flight.predicted.as_ref().filter(|known| !anew && known.model == MODEL);
    let predicted = match known {
        Some(known) => known.clone(),
        None => predict(bundle, flight).map_err(|fault| fault.to_string())?,
    };
    let factor = predicted
        .power_factor
        .ok_or_else(|| "the packs of the model cannot give what was counted, at any power".to_owned())?;
    let (time_s, used_mah) = (flight.flight_time_s.unwrap_or_default(), flight.used_mah.unwrap_or_default());
    let counted = ElectricCharge::new::<milliampere_hour>(used_mah);
    let reading = reading_spread(Time::new::<second>(time_s), counted);
    // A clock that was set back makes no flight younger than now.
    let age_s = ((now_unix_ms - flight.lift_off_unix_ms) / 1000.0).clamp(0.0, Flown::AGE.max);
    let datum = Flown {
        power_factor: Ratio::new::<ratio>(factor),
        reading,
        age: Time::new::<second>(if age_s.is_finite() { age_s } else { 0.0 }),
    };
    Flown::POWER_FACTOR.check(factor).map_err(|refusal| refusal.to_string())?;
    let said = Taught {
        id: flight.id.clone(),
        name: flight.name.clone(),
        power_factor: factor,
        reading_spread: reading.value,
    };
    Ok((said, datum))
}

fn odd_flight(odd: &correction::Odd, taught: &[Taught]) -> Option<OddFlight> {
    let flight = taught.get(odd.flight)?;
    let (over, deviations) = (odd.over_the_others.value, odd.deviations.value);
    let percent = (100.0 * (over - 1.0)).abs();
    let side = if over > 1.0 { "more" } else { "less" };
    Some(OddFlight {
        id: flight.id.clone(),
        name: flight.name.clone(),
        over_the_others: over,
        deviations,
        reason: format!(
            "it used {percent:.0} % {side} power than the flights together explain, {deviations:.1} times what is expected: it hardly counts"
        ),
    })
}

/// A bundle in which the airframe's correction is what its flights teach now; switched on with the first flight, and left as
/// the crew has switched it from then on.
///
/// # Errors
/// As `learn`.
pub fn relearn(bundle: &Bundle, airframe_id: &str, now_unix_ms: f64) -> Result<Bundle, DocumentError> {
    let log = learn(bundle, airframe_id, now_unix_ms, false)?;
    let mut learned = bundle.clone();
    if let Some(airframe) = Airframe::find_mut(&mut learned, airframe_id) {
        let before = airframe.correction.take();
        let fading_days = before.as_ref().and_then(|before| before.fading_days);
        let since_unix_ms = before.as_ref().and_then(|before| before.since_unix_ms);
        let correction = &log.correction;
        airframe.correction = (correction.flights > 0 || fading_days.is_some() || since_unix_ms.is_some())
            .then(|| Learned {
                on: before.as_ref().is_none_or(|before| before.on || before.flights == 0)
                    && correction.flights > 0,
                flights: correction.flights as u32,
                factor: correction.median.value,
                assured_factor: correction.applied().value,
                spread: correction.spread.value,
                fading_days,
                since_unix_ms,
                extra: before.map(|before| before.extra).unwrap_or_default(),
            });
    }
    Ok(learned)
}
