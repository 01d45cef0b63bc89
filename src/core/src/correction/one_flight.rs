//! What one flight says: the factor on power that makes the model use what the meter counted.
//!
//! Formula   used(k) = what was counted, used(k) the charge of `flight::TimedFlight`; k ← k (counted / used(k)), since used
//!           grows nearly as k; reading spread: hypot(meter step / counted, seconds / time in the air)
//! Units     dimensionless
//! Source    fixed-point iteration, textbook
//! Valid     factors inside `Flown::POWER_FACTOR`
//! Checked   by flying at a known factor (tests/it/flight_for_time.rs)
//! Assumes   mass, air, wind and packs of the flight are those of the setup as flown

use super::params::Flown;
use crate::flight::{TimedFlight, UsedInFlight};
use crate::input_error::InputError;
use crate::units::{ElectricCharge, Ratio, Time};
use uom::si::electric_charge::milliampere_hour;
use uom::si::ratio::ratio;
use uom::si::time::second;

const MOST_TRIALS: usize = 60;
const CLOSE: f64 = 1e-6;
/// Where the packs give out before the flight's end, the next trial is so much lower.
const LOWER: f64 = 0.85;
/// What the meter's digits and the crew's eye leave open: common practice, no source.
const METER_MAH: f64 = 25.0;
/// What the stamps of lift-off and touchdown leave open: common practice, no source.
const STAMPS_S: f64 = 5.0;

/// The factor of one flight; none where the packs of the model cannot give what was counted at any power.
///
/// # Errors
/// `InputError` for a time outside its range or a factor outside `Flown::POWER_FACTOR`.
pub fn power_factor(
    flight: &TimedFlight,
    airborne: Time,
    counted: ElectricCharge,
) -> Result<Option<Ratio>, InputError> {
    let (mut factor, mut gave_out) = (1.0_f64, f64::INFINITY);
    for _ in 0..MOST_TRIALS {
        let Some(UsedInFlight { used, .. }) = flight.fly(airborne, Ratio::new::<ratio>(factor))? else {
            gave_out = factor;
            factor *= LOWER;
            if factor < Flown::POWER_FACTOR.min {
                return Ok(None);
            }
            continue;
        };
        let miss = counted.value / used.value;
        if (miss - 1.0).abs() < CLOSE {
            return Flown::POWER_FACTOR.check(factor).map(|found| Some(Ratio::new::<ratio>(found)));
        }
        if !miss.is_finite() || miss <= 0.0 {
            return Flown::POWER_FACTOR.check(miss).map(|found| Some(Ratio::new::<ratio>(found)));
        }
        let next = factor * miss;
        Flown::POWER_FACTOR.check(next)?;
        factor = if next < gave_out { next } else { 0.5 * (factor + gave_out) };
    }
    Ok(None)
}

/// One standard deviation of that factor by what was read.
pub fn reading_spread(airborne: Time, counted: ElectricCharge) -> Ratio {
    let of_charge = METER_MAH / counted.get::<milliampere_hour>().max(f64::MIN_POSITIVE);
    let of_time = STAMPS_S / airborne.get::<second>().max(f64::MIN_POSITIVE);
    Ratio::new::<ratio>(of_charge.hypot(of_time).min(Flown::READING.max))
}
