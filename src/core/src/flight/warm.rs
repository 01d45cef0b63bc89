//! What warming the packs before the flight gains.
//!
//! Formula: longest flight with every pack colder than a temperature brought to it, less the longest as they are.
//! Units: s. Assumes: as `fly`; the packs keep that temperature at least.

use uom::si::time::second;

use crate::flight::longest::fly_brief;
use crate::flight::params::{FlightSettings, ReservePolicy};
use crate::input_error::InputError;
use crate::profile::LegDemand;
use crate::supply::{Pack, Supply};
use crate::units::{ThermodynamicTemperature, Time};

/// Flight times as the packs are and warmed; none where there is no flight.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WarmGain {
    /// As they are.
    pub as_they_are: Option<Time>,
    /// Warmed.
    pub warmed: Option<Time>,
    /// Gained; all of the warmed flight where the cold packs do not fly.
    pub gained: Time,
}

/// Time gained by warming packs to a temperature; packs warmer than it are left alone.
///
/// # Errors
/// As `fly_brief`; the temperature in the range of `Pack::TEMPERATURE`.
pub fn warm_pack_gain(
    supply: &Supply,
    demand: &LegDemand,
    policy: &ReservePolicy,
    settings: &FlightSettings,
    to: ThermodynamicTemperature,
) -> Result<WarmGain, InputError> {
    Pack::TEMPERATURE.check(to.value)?;
    let mut warm = supply.clone();
    for pack in warm.strings.iter_mut().flat_map(|string| &mut string.packs) {
        if pack.temperature < to {
            pack.temperature = to;
        }
    }
    let time = |supply: &Supply| -> Result<Option<Time>, InputError> {
        Ok(fly_brief(supply, demand, policy, settings)?.ok().map(|flight| flight.flight_time))
    };
    let (as_they_are, warmed) = (time(supply)?, time(&warm)?);
    let zero = Time::new::<second>(0.0);
    let gained = warmed.unwrap_or(zero) - as_they_are.unwrap_or(zero);
    Ok(WarmGain { as_they_are, warmed, gained })
}
