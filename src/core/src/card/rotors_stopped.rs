//! A setup with rotors stopped or weak, on set, packs as they are at the start: thrusts, throttles, power, minutes.
//!
//! Formula   `Trim::damaged_hover` at the bus voltage that stands under its own power, found by repeating
//! Units     SI
//! Source    the stations' own
//! Valid     a setup whose packs can feed the hover
//! Assumes   still air; minutes: the packs flown down to the reserve at that power, the landing's hover at the end

use super::params::Setup;
use crate::air::{Site, air_above};
use crate::aircraft::{DamagedHover, Trim};
use crate::flight::{FlightSettings, fly_brief};
use crate::frame::LevelHold;
use crate::input_error::InputError;
use crate::mass::sum;
use crate::profile::{Leg, LegDemand, LegKind};
use crate::units::{ElectricPotential, Power, Ratio, Time, Velocity};

/// The bus voltage is good to a millivolt by then.
const REPEATS: usize = 6;

/// What a setup does with rotors stopped or weak.
#[derive(Debug, Clone, PartialEq)]
pub struct RotorsStopped {
    /// How level can be held at all.
    pub hold: LevelHold,
    /// The hover; none where this weight cannot be carried.
    pub hover: Option<StoppedHover>,
}

/// The hover of what is left.
#[derive(Debug, Clone, PartialEq)]
pub struct StoppedHover {
    /// Each rotor.
    pub at_work: DamagedHover,
    /// What the bus gives meanwhile.
    pub bus_voltage: ElectricPotential,
    /// Fresh packs last this long in that state.
    pub time_left: Option<Time>,
}

impl StoppedHover {
    /// Throttle of a rotor; none where it stands still.
    pub fn throttle(&self, rotor: usize) -> Option<Ratio> {
        let rotor = self.at_work.rotors.get(rotor)?.as_ref()?;
        Some(rotor.duty(self.bus_voltage))
    }
}

/// The setup with each rotor giving the share of its thrust that `thrust_left` says: `frame::stopped` makes one of
/// stopped rotors.
///
/// # Errors
/// As `card`, and `InputError::OutOfRange` for a share.
pub fn rotors_stopped(
    setup: &Setup,
    site: &Site,
    thrust_left: &[Ratio],
) -> Result<RotorsStopped, InputError> {
    let mass = sum(&setup.items)?;
    let trim = Trim::new(&setup.airframe, &mass)?;
    let density = air_above(site, setup.profile.height)?.density;
    let hold = trim.level_hold(thrust_left)?;
    let source = setup.supply.source_at_start()?;
    let auxiliary = setup.supply.auxiliary_power / setup.supply.converter_efficiency;
    let still = Velocity::default();
    let mut power = trim.power(density, still, still)?;
    let mut found = None;
    for _ in 0..REPEATS {
        let Some(bus_voltage) = source.voltage_at(power + auxiliary) else {
            return Ok(RotorsStopped { hold, hover: None });
        };
        let Some(at_work) = trim.damaged_hover(density, bus_voltage, thrust_left)? else {
            return Ok(RotorsStopped { hold, hover: None });
        };
        power = at_work.power;
        found = Some((at_work, bus_voltage));
    }
    let Some((at_work, bus_voltage)) = found else { return Ok(RotorsStopped { hold, hover: None }) };
    let time_left = time_at(setup, power)?;
    Ok(RotorsStopped { hold, hover: Some(StoppedHover { at_work, bus_voltage, time_left }) })
}

fn time_at(setup: &Setup, power: Power) -> Result<Option<Time>, InputError> {
    let landing = Leg { kind: LegKind::Landing, duration: setup.profile.landing, power };
    let demand = LegDemand { outbound: Vec::new(), on_set: power, homebound: vec![landing] };
    let flown = fly_brief(&setup.supply, &demand, &setup.policy, &FlightSettings::default())?;
    Ok(flown.ok().map(|flown| flown.land_by_at))
}
