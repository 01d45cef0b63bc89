//! The samples of a setup's doubt flown elsewhere: the question as a text, its answer as a text.
//!
//! A thread of its own shares no memory with the page: it is given the setup with all that it needs as a file, resolves it as
//! the page does, and answers with the figures, SI, unrounded. Both are the same to the bit as when flown on the page.

use liftmargin_core::card::{Cautious, Prepared};
use liftmargin_core::limits::Thresholds;
use liftmargin_core::spread::{Input, Uncertainty};
use liftmargin_core::units::{ElectricCharge, Ratio, Time};
use serde_json::{Value, json};
use uom::si::electric_charge::coulomb;
use uom::si::ratio::ratio;
use uom::si::time::second;

use crate::card_report::{SAMPLES, SEED};
use crate::error::DocumentError;
use crate::model::Bundle;
use crate::open::{open, to_value};
use crate::resolve::resolve;

/// The question after one setup's cautious figures.
///
/// # Errors
/// `Refused` for a number that JSON cannot hold.
pub fn question(bundle: &Bundle, setup_id: &str) -> Result<String, DocumentError> {
    let mut asked = bundle.equipment();
    asked.setups.retain(|setup| setup.id == setup_id);
    Ok(to_value(&asked)?.to_string())
}

/// Flies the samples of a question: the answer.
///
/// # Errors
/// Where it is no question, and as `resolve` and `Prepared::sampler`.
pub fn answer(question: &str) -> Result<String, DocumentError> {
    let bundle = open(question)?.bundle;
    let setup_id = bundle.setups.first().map(|setup| setup.id.as_str()).unwrap_or_default();
    let (setup, site) = resolve(&bundle, setup_id)?;
    let uncertainty = Uncertainty::for_airframe(&setup.airframe);
    let thresholds = Thresholds::default();
    let sampler = Prepared::new(&setup, &site, &thresholds)
        .and_then(|at| at.sampler(&uncertainty, SEED))
        .map_err(DocumentError::of_core)?;
    let flown = sampler.and_then(|sampler| sampler.cautious(SAMPLES));
    Ok(flown.map_or(Value::Null, |flown| figures(&flown)).to_string())
}

fn figures(flown: &Cautious) -> Value {
    let place = |input: Input| Input::ALL.iter().position(|known| *known == input);
    let contributions =
        flown.contributions.iter().map(|(input, share)| (place(*input), share.get::<ratio>()));
    json!({
        "median_flight_time_s": flown.median_flight_time.get::<second>(),
        "flight_time_s": flown.flight_time.get::<second>(),
        "land_by_c": flown.land_by.get::<coulomb>(),
        "turn_back_c": flown.turn_back.get::<coulomb>(),
        "comes_home": flown.comes_home.get::<ratio>(),
        // Inputs by their place in `Input::ALL`.
        "contributions": contributions.collect::<Vec<_>>(),
    })
}

/// The figures of an answer, none where the setup does not fly; nothing where it is no answer.
pub fn flown(answer: &str) -> Option<Option<Cautious>> {
    let figures: Value = serde_json::from_str(answer).ok()?;
    if figures.is_null() {
        return Some(None);
    }
    let number = |key: &str| figures[key].as_f64();
    let contribution = |of: &Value| {
        let input = Input::ALL.get(usize::try_from(of[0].as_u64()?).ok()?)?;
        Some((*input, Ratio::new::<ratio>(of[1].as_f64()?)))
    };
    let contributions = figures["contributions"].as_array()?.iter().map(contribution);
    Some(Some(Cautious {
        median_flight_time: Time::new::<second>(number("median_flight_time_s")?),
        flight_time: Time::new::<second>(number("flight_time_s")?),
        land_by: ElectricCharge::new::<coulomb>(number("land_by_c")?),
        turn_back: ElectricCharge::new::<coulomb>(number("turn_back_c")?),
        comes_home: Ratio::new::<ratio>(number("comes_home")?),
        contributions: contributions.collect::<Option<_>>()?,
    }))
}
