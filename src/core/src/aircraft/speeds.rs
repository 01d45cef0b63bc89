//! The airspeeds that ask least of the packs.
//!
//! Formula   best endurance: min P(V); best range: min P(V) / (V − w), w the headwind; golden-section search
//! Units     m/s
//! Source    Leishman, Principles of Helicopter Aerodynamics, ch. 5 (chapter from memory): the bottom of the power
//!           curve, and the tangent to it from the wind speed
//! Valid     level flight at speeds a flight may be planned with
//! Assumes   power as in steady level flight; the power curve falls to one minimum and rises

use super::trim::Trim;
use crate::input_error::InputError;
use crate::units::{MassDensity, Velocity};
use uom::si::velocity::meter_per_second;

/// Fastest a camera lifter is planned to fly, m/s: common practice, no source.
pub(crate) const GREATEST_AIRSPEED_M_S: f64 = 30.0;
/// Above the headwind, m/s: below that no ground is made worth speaking of.
const LEAST_OVER_GROUND_M_S: f64 = 1.0;
/// Found to this, m/s.
const TOLERANCE_M_S: f64 = 0.05;

/// Airspeeds that ask least of the packs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BestSpeeds {
    /// Stays up longest.
    pub endurance: Velocity,
    /// Comes furthest over ground against the headwind.
    pub range: Velocity,
}

/// The best airspeeds in this air against this headwind, none faster than `greatest`; none where the wind is as fast as
/// that.
///
/// # Errors
/// `InputError` from the propulsion unit.
pub fn best_speeds(
    trim: &Trim<'_>,
    density: MassDensity,
    headwind: Velocity,
    greatest: Velocity,
) -> Result<Option<BestSpeeds>, InputError> {
    let wind_m_s = headwind.get::<meter_per_second>();
    let most = greatest.get::<meter_per_second>().min(GREATEST_AIRSPEED_M_S);
    let least = wind_m_s + LEAST_OVER_GROUND_M_S;
    if least >= most {
        return Ok(None);
    }
    let power_w = |speed_m_s: f64| -> Result<f64, InputError> {
        let airspeed = Velocity::new::<meter_per_second>(speed_m_s);
        Ok(trim.power(density, airspeed, Velocity::default())?.value)
    };
    let endurance = lowest(0.0, most, &power_w)?;
    let range = lowest(least, most, &|speed_m_s| Ok(power_w(speed_m_s)? / (speed_m_s - wind_m_s)))?;
    let speed = Velocity::new::<meter_per_second>;
    Ok(Some(BestSpeeds { endurance: speed(endurance), range: speed(range) }))
}

/// Where a function that falls and then rises is lowest.
fn lowest(
    mut from: f64,
    mut to: f64,
    value: &dyn Fn(f64) -> Result<f64, InputError>,
) -> Result<f64, InputError> {
    const GOLDEN: f64 = 0.618_033_988_749_894_9;
    let (mut low, mut high) = (to - GOLDEN * (to - from), from + GOLDEN * (to - from));
    let (mut at_low, mut at_high) = (value(low)?, value(high)?);
    while to - from > TOLERANCE_M_S {
        if at_low < at_high {
            to = high;
            (high, at_high) = (low, at_low);
            low = to - GOLDEN * (to - from);
            at_low = value(low)?;
        } else {
            from = low;
            (low, at_low) = (high, at_high);
            high = from + GOLDEN * (to - from);
            at_high = value(high)?;
        }
    }
    Ok(f64::midpoint(from, to))
}
