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
use crate::fields::Field;
use crate::model::{self, numbers as n};

/// The flight as planned; paths below the setup.
pub(crate) fn profile(setup: &model::Setup) -> Result<Profile, DocumentError> {
    let time = |field: &'static Field<_>| field.si(setup).map(Time::new::<second>);
    let length = |field: &'static Field<_>| field.si(setup).map(Length::new::<meter>);
    let speed = |field: &'static Field<_>| field.si(setup).map(Velocity::new::<meter_per_second>);
    Ok(Profile {
        warm_up: time(&n::WARM_UP)?,
        height: length(&n::HEIGHT)?,
        distance: length(&n::DISTANCE)?,
        climb_rate: speed(&n::CLIMB_RATE)?,
        descent_rate: speed(&n::DESCENT_RATE)?,
        transit_airspeed: speed(&n::TRANSIT_AIRSPEED)?,
        manoeuvre_allowance: Ratio::new::<ratio>(n::MANOEUVRE_ALLOWANCE.si(setup)?),
        landing: time(&n::LANDING)?,
        go_around: time(&n::GO_AROUND)?,
    })
}

/// What must be left; paths below the setup.
pub(crate) fn reserve(setup: &model::Setup) -> Result<ReservePolicy, DocumentError> {
    Ok(ReservePolicy {
        share: Ratio::new::<ratio>(n::RESERVE_SHARE.si(setup)?),
        time: n::RESERVE_TIME.si_if_there(setup)?.map(Time::new::<second>),
        charge: n::RESERVE_CHARGE.si_if_there(setup)?.map(ElectricCharge::new::<coulomb>),
        loaded_cell_floor: ElectricPotential::new::<volt>(n::LOADED_CELL_FLOOR.si(setup)?),
    })
}
