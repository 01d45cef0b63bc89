//! What stands beside the card: one string lost, cold packs, turning back from elsewhere, the best airspeeds.
//!
//! Formula   the stations' own, called for other moments and places
//! Units     SI
//! Source    as there
//! Valid     a setup that flies
//! Assumes   winds from calm to one and a half of the site's, homeward against it

use super::params::Setup;
use super::prepared::Prepared;
use crate::air::{Site, wind_at};
use crate::aircraft::{BestSpeeds, Trim, best_speeds};
use crate::flight::{
    FlightSettings, FlightTask, LongestFlight, LossMoment, StringLost, WarmGain, fly_brief, warm_pack_gain,
};
use crate::input_error::InputError;
use crate::profile::{Plan, Profile, plan};
use crate::units::{ElectricCharge, Length, Ratio, ThermodynamicTemperature, Velocity};
use uom::si::length::meter;
use uom::si::ratio::ratio;
use uom::si::thermodynamic_temperature::degree_celsius;

/// Packs are warmed to this where there is time: common practice, no source.
const WARM_C: f64 = 25.0;
/// Shares of the planned distance that the table covers.
const DISTANCES: [f64; 5] = [0.0, 0.5, 1.0, 2.0, 4.0];
/// Distance behind those shares where the set is at the launch site, m.
const USUAL_DISTANCE_M: f64 = 100.0;
/// Shares of the site's wind that the table covers.
const WINDS: [f64; 3] = [0.0, 1.0, 1.5];

/// What stands beside the card.
#[derive(Debug, Clone, PartialEq)]
pub struct Contingencies {
    /// Each string lost at each moment; strings alike stand once.
    pub strings_lost: Vec<LostString>,
    /// What warming the packs gains.
    pub warming: WarmGain,
    /// What they would be warmed to.
    pub warmed_to: ThermodynamicTemperature,
    /// When to turn back from other distances in other winds.
    pub turn_back: TurnBackTable,
    /// The airspeeds that ask least; none against a wind faster than the aircraft may fly.
    pub speeds: Option<BestSpeeds>,
}

/// One string lost at one moment.
#[derive(Debug, Clone, PartialEq)]
pub struct LostString {
    /// The string, from 0.
    pub string: usize,
    /// When.
    pub when: LossMoment,
    /// What becomes of it.
    pub lost: StringLost,
}

/// Turn-back by the meter on board over distance and wind.
#[derive(Debug, Clone, PartialEq)]
pub struct TurnBackTable {
    /// Mean winds at 10 m, one a column.
    pub winds: Vec<Velocity>,
    /// One row a distance.
    pub rows: Vec<TurnBackRow>,
}

/// One distance.
#[derive(Debug, Clone, PartialEq)]
pub struct TurnBackRow {
    /// Of the set from the launch site.
    pub distance: Length,
    /// Turn back at, one for each wind; none where there is no flight.
    pub turn_back: Vec<Option<ElectricCharge>>,
}

impl Prepared<'_> {
    /// What stands beside the card; none where the setup does not fly.
    ///
    /// # Errors
    /// As `card`.
    pub fn contingencies(&self) -> Result<Option<Contingencies>, InputError> {
        let Self { setup, site, trim, .. } = self;
        let Plan::Legs(legs) = self.plan()? else { return Ok(None) };
        let settings = FlightSettings::default();
        let task = FlightTask::new(&setup.supply, legs, &setup.policy, &settings)?;
        let Ok(mut longest) = task.longest() else { return Ok(None) };
        let at_land_by = longest.in_full().source_at_land_by;
        let warmed_to = ThermodynamicTemperature::new::<degree_celsius>(WARM_C);
        Ok(Some(Contingencies {
            strings_lost: strings_lost(setup, &mut longest)?,
            warming: warm_pack_gain(&setup.supply, legs, &setup.policy, &settings, warmed_to)?,
            warmed_to,
            turn_back: turn_back_table(setup, site, trim, &settings)?,
            speeds: best_speeds(
                trim,
                self.set_air.density,
                wind_at(site.wind, setup.profile.height),
                self.greatest_airspeed(&at_land_by).unwrap_or_default(),
            )?,
        }))
    }
}

fn strings_lost(setup: &Setup, flight: &mut LongestFlight<'_>) -> Result<Vec<LostString>, InputError> {
    let halfway = LossMoment::OnSetShare(Ratio::new::<ratio>(0.5));
    let mut all = Vec::new();
    for (string, _) in setup.supply.unlike_strings() {
        for when in [LossMoment::TakeOff, halfway, LossMoment::TurnBack] {
            all.push(LostString { string, when, lost: flight.string_lost(string, when)? });
        }
    }
    Ok(all)
}

fn turn_back_table(
    setup: &Setup,
    site: &Site,
    trim: &Trim<'_>,
    settings: &FlightSettings,
) -> Result<TurnBackTable, InputError> {
    let planned = setup.profile.distance.get::<meter>();
    let base = if planned > 0.0 { planned } else { USUAL_DISTANCE_M };
    let winds: Vec<Velocity> =
        WINDS.iter().map(|share| site.wind * *share).filter(|wind| wind.value <= Site::WIND.max).collect();
    let mut rows = Vec::new();
    for distance_m in DISTANCES.map(|share| share * base) {
        if distance_m > Profile::DISTANCE.max {
            continue;
        }
        let distance = Length::new::<meter>(distance_m);
        let profile = Profile { distance, ..setup.profile };
        let mut turn_back = Vec::new();
        for wind in &winds {
            let there = Site { wind: *wind, gust: site.gust.max(*wind), ..*site };
            turn_back.push(match plan(trim, &there, &profile)? {
                Plan::NoWayHome { .. } => None,
                Plan::Legs(legs) => {
                    let flown = fly_brief(&setup.supply, &legs, &setup.policy, settings)?;
                    flown.ok().map(|flown| flown.marks.turn_back)
                }
            });
        }
        rows.push(TurnBackRow { distance, turn_back });
    }
    Ok(TurnBackTable { winds, rows })
}
