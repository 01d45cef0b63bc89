//! The planned flight and the reserve of a setup as core's.

use liftmargin_core::flight::ReservePolicy;
use liftmargin_core::profile::Profile;
use liftmargin_core::units::{ElectricCharge, ElectricPotential, Length, Ratio, Time, Velocity};
use uom::si::electric_charge::coulomb;
use uom::si::electric_potential::volt;
use uom::si::length::meter;
use uom::si::ratio::ratio;
use uom::si::time::second;
use uom::si::velocity::meter_per_second;

use crate::error::DocumentError;
use crate::quantity::{si, si_if_there};
use crate::schema;

/// The flight as planned; paths below the profile.
pub(crate) fn profile(profile: &schema::Profile) -> Result<Profile, DocumentError> {
    let time = |path: &str, value: f64, range| si(path, value, range).map(Time::new::<second>);
    let length = |path: &str, value: f64, range| si(path, value, range).map(Length::new::<meter>);
    let speed = |path: &str, value: f64, range| si(path, value, range).map(Velocity::new::<meter_per_second>);
    Ok(Profile {
        warm_up: time("warm_up_s", profile.warm_up_s, &Profile::WARM_UP)?,
        height: length("height_m", profile.height_m, &Profile::HEIGHT)?,
        distance: length("distance_m", profile.distance_m, &Profile::DISTANCE)?,
        climb_rate: speed("climb_rate_m_s", profile.climb_rate_m_s, &Profile::CLIMB_RATE)?,
        descent_rate: speed("descent_rate_m_s", profile.descent_rate_m_s, &Profile::DESCENT_RATE)?,
        transit_airspeed: speed(
            "transit_airspeed_m_s",
            profile.transit_airspeed_m_s,
            &Profile::TRANSIT_AIRSPEED,
        )?,
        manoeuvre_allowance: Ratio::new::<ratio>(si(
            "manoeuvre_allowance_percent",
            profile.manoeuvre_allowance_percent,
            &Profile::MANOEUVRE_ALLOWANCE,
        )?),
        landing: time("landing_s", profile.landing_s, &Profile::LANDING)?,
        go_around: time("go_around_s", profile.go_around_s, &Profile::GO_AROUND)?,
    })
}

/// What must be left; paths below the reserve.
pub(crate) fn reserve(reserve: &schema::Reserve) -> Result<ReservePolicy, DocumentError> {
    let time = si_if_there("time_s", reserve.time_s, &ReservePolicy::TIME)?;
    let charge = si_if_there("charge_mah", reserve.charge_mah, &ReservePolicy::CHARGE)?;
    let floor = si("loaded_cell_floor_v", reserve.loaded_cell_floor_v, &ReservePolicy::LOADED_CELL_FLOOR)?;
    Ok(ReservePolicy {
        share: Ratio::new::<ratio>(si("share_percent", reserve.share_percent, &ReservePolicy::SHARE)?),
        time: time.map(Time::new::<second>),
        charge: charge.map(ElectricCharge::new::<coulomb>),
        loaded_cell_floor: ElectricPotential::new::<volt>(floor),
    })
}
