//! What a unit does at a thrust, each figure with how far it may be off.
//!
//! Formula   `operate` and `ceiling`; spreads are one standard deviation of the logarithm, joined as independent ones
//! Units     SI; spreads as shares
//! Source    estimate: the classes of measured rotors. Table: its own error; the rest from fits of 1,800 drawn tables with scatter
//!           whose truth was known (own study): shaft power within 6 %, without rotor speed the speed within 9 %. In a flow: 324
//!           runs of propellers in axial flow (`rotor`)
//! Valid     as `operate`; spreads hold for the unit as stated, not for a damaged or a worn one
//! Checked?  val_bench_spread_of_power_holds, val_giljarhus_single_rotor_by_estimate
//! Assumes   k_V of a motor is known to 5 % (common practice, no source)

use uom::si::ratio::ratio;
use uom::si::velocity::meter_per_second;

use crate::input_error::{InputError, ThrustLimit};
use crate::propulsion::operate::{ceiling, operate};
use crate::propulsion::params::{Evidence, PropulsionUnit};
use crate::rotor::Flow;
use crate::units::{AngularVelocity, ElectricPotential, Force, MassDensity, Power, Ratio};

/// A figure and one standard deviation of its logarithm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spread<T> {
    /// The figure.
    pub value: T,
    /// One standard deviation, as a share.
    pub spread: Ratio,
}

/// A unit at a thrust, on a bus.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Performance {
    /// Rotor speed.
    pub speed: Spread<AngularVelocity>,
    /// Shaft power.
    pub shaft_power: Spread<Power>,
    /// Power drawn from the bus.
    pub bus_power: Spread<Power>,
    /// Duty at the bus voltage; above 1 the thrust is out of reach.
    pub throttle: Spread<Ratio>,
    /// Greatest thrust at the bus voltage.
    pub greatest_thrust: Spread<Force>,
    /// What ends it.
    pub ruled_by: ThrustLimit,
}

const VELOCITY_CONSTANT_SPREAD: f64 = 0.05;
/// Of a measured rotor: speed, where it was measured and where not.
const MEASURED_SPEED_SPREAD: f64 = 0.015;
const UNMEASURED_SPEED_SPREAD: f64 = 0.09;
const FITTED_SHAFT_SPREAD: f64 = 0.06;
/// What a stand's meters and another copy add to the error of a fit.
const STAND_SPREAD: f64 = 0.02;
/// Motor voltage of a fit: it is met at the table's strongest row.
const FITTED_VOLTAGE_SPREAD: f64 = 0.025;
/// A mean absolute error of a normal distribution is 0.8 of its deviation.
const DEVIATION_OVER_MEAN: f64 = 1.25;
/// What a flow through or along the disc adds.
const FLOW_SPEED_SPREAD: f64 = 0.03;
const FLOW_POWER_SPREAD: f64 = 0.06;

/// The spreads of one unit: speed, shaft power, bus power, motor voltage, greatest thrust.
struct Spreads {
    speed: f64,
    shaft: f64,
    bus: f64,
    voltage: f64,
    greatest: f64,
}

impl Spreads {
    fn of(evidence: &Evidence) -> Self {
        match evidence {
            Evidence::Bench { mean_power_error, with_speed, other_rotor, .. } => {
                let speed = if *with_speed { MEASURED_SPEED_SPREAD } else { UNMEASURED_SPEED_SPREAD };
                let (thrust, shaft) = other_rotor
                    .map_or((0.0, 0.0), |other| (other.thrust_spread.value, other.shaft_power_spread.value));
                Self {
                    speed: speed.hypot(0.5 * thrust),
                    shaft: FITTED_SHAFT_SPREAD.hypot(shaft),
                    bus: (DEVIATION_OVER_MEAN * mean_power_error.value).hypot(STAND_SPREAD).hypot(shaft),
                    voltage: FITTED_VOLTAGE_SPREAD.hypot(0.5 * thrust),
                    greatest: evidence.thrust_spread().value,
                }
            }
            Evidence::Estimate { thrust_spread, shaft_power_spread, power_spread } => {
                // T ~ C_T n²: half of the doubt of C_T is doubt of the speed, and all of it is doubt of the thrust at a speed.
                let speed = 0.5 * thrust_spread.value;
                Self {
                    speed,
                    shaft: shaft_power_spread.value,
                    bus: power_spread.value,
                    voltage: speed.hypot(VELOCITY_CONSTANT_SPREAD),
                    greatest: thrust_spread.value.hypot(2.0 * VELOCITY_CONSTANT_SPREAD),
                }
            }
        }
    }

    fn in_flow(self, flow: &Flow) -> Self {
        let still = |speed: f64| speed.abs() < f64::EPSILON;
        if still(flow.axial.get::<meter_per_second>()) && still(flow.edgewise.get::<meter_per_second>()) {
            return self;
        }
        Self {
            speed: self.speed.hypot(FLOW_SPEED_SPREAD),
            shaft: self.shaft.hypot(FLOW_POWER_SPREAD),
            bus: self.bus.hypot(FLOW_POWER_SPREAD),
            voltage: self.voltage.hypot(FLOW_SPEED_SPREAD),
            greatest: self.greatest.hypot(FLOW_POWER_SPREAD),
        }
    }
}

/// A unit at a thrust in a flow, on a bus: see the module.
///
/// # Errors
/// As `operate` and `ceiling`.
pub fn performance(
    unit: &PropulsionUnit,
    air_density: MassDensity,
    thrust: Force,
    flow: &Flow,
    bus_voltage: ElectricPotential,
) -> Result<Performance, InputError> {
    let point = operate(unit, air_density, thrust, flow)?;
    let most = ceiling(unit, air_density, bus_voltage, flow, None)?;
    let Spreads { speed, shaft, bus, voltage, greatest } = Spreads::of(&unit.evidence).in_flow(flow);
    Ok(Performance {
        speed: spread(point.speed, speed),
        shaft_power: spread(point.shaft_power, shaft),
        bus_power: spread(point.bus_power, bus),
        throttle: spread(point.duty(bus_voltage), voltage),
        greatest_thrust: spread(most.point.thrust, greatest),
        ruled_by: most.ruled_by,
    })
}

fn spread<T>(value: T, spread: f64) -> Spread<T> {
    Spread { value, spread: Ratio::new::<ratio>(spread) }
}
