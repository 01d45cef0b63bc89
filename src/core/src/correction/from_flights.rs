//! A correction from flights.
//!
//! Formula   see `posterior`; a flight counts by 2^(−age / half-life) where the crew lets old flights fade; odd: further from
//!           what all say than three of its expected deviations, from three flights on
//! Units     dimensionless
//! Source    as there; three deviations: common practice, no source
//! Valid     factors inside `Flown::POWER_FACTOR`
//! Assumes   one factor serves all loads and places of an airframe

use super::params::{Correction, Flown, Odd, Prior, Scatter};
use super::posterior::{Datum, Posterior};
use crate::input_error::InputError;
use crate::input_range::{InputRange, Kind};
use crate::units::{Ratio, Time};
use uom::si::ratio::ratio;

const ODD_DEVIATIONS: f64 = 3.0;
/// Of two flights that differ nobody knows which is odd.
const FEWEST_FOR_ODD: usize = 3;

/// A day to thirty years.
static HALF_LIFE: InputRange = InputRange::new("fading_half_life", Kind::Duration, 86_400.0, 9.5e8);

/// What the flights teach of an airframe's power. Without flights it is the model's own spread.
///
/// # Errors
/// `InputError::OutOfRange` for a value outside its range.
pub fn learn(
    flights: &[Flown],
    prior: &Prior,
    scatter: &Scatter,
    half_life: Option<Time>,
) -> Result<Correction, InputError> {
    let spread = Prior::SPREAD.check(prior.spread.value)?;
    scatter.validate()?;
    if let Some(half_life) = half_life {
        HALF_LIFE.check(half_life.value)?;
    }
    let data = flights.iter().map(|flown| datum(flown, half_life)).collect::<Result<Vec<_>, _>>()?;
    let posterior = Posterior::new(&data, spread, scatter);
    let factor = |share: f64| Ratio::new::<ratio>(posterior.quantile(share).exp());
    let deviation = posterior.standard_deviation();
    let middle = posterior.quantile(0.5);
    Ok(Correction {
        flights: flights.len(),
        median: Ratio::new::<ratio>(middle.exp()),
        spread: Ratio::new::<ratio>(deviation),
        interval_80: [factor(0.1), factor(0.9)],
        interval_90: [factor(0.05), factor(0.95)],
        odd: odd(&data, middle, deviation, scatter),
    })
}

fn datum(flown: &Flown, half_life: Option<Time>) -> Result<Datum, InputError> {
    let age = Flown::AGE.check(flown.age.value)?;
    Ok(Datum {
        log_factor: Flown::POWER_FACTOR.check(flown.power_factor.value)?.ln(),
        reading: Flown::READING.check(flown.reading.value)?,
        weight: half_life.map_or(1.0, |half_life| (-age / half_life.value).exp2()),
    })
}

fn odd(data: &[Datum], middle: f64, deviation: f64, scatter: &Scatter) -> Vec<Odd> {
    if data.len() < FEWEST_FOR_ODD {
        return Vec::new();
    }
    let expected = |datum: &Datum| scatter.scale.value.hypot(datum.reading).hypot(deviation);
    let one = |(flight, datum): (usize, &Datum)| {
        let miss = datum.log_factor - middle;
        let deviations = miss.abs() / expected(datum);
        (deviations > ODD_DEVIATIONS).then(|| Odd {
            flight,
            over_the_others: Ratio::new::<ratio>(miss.exp()),
            deviations: Ratio::new::<ratio>(deviations),
        })
    };
    data.iter().enumerate().filter_map(one).collect()
}
