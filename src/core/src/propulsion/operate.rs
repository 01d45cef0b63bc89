//! One propulsion unit at a thrust, and the greatest thrust that a bus voltage allows.
//!
//! The chain of `rotor` (thrust and flow to speed and torque) and `motor` (torque and speed to voltage, current and bus
//! power). The ceiling is the root of the smallest of 1 − v/V, 1 − i/i_limit and, with a bench table, 1 − T/T_measured over the
//! square root of thrust: a table says nothing of what is beyond it.
//! Units: SI. Sources and valid ranges: those two modules.

use uom::si::angular_velocity::radian_per_second;
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::force::newton;
use uom::si::power::watt;
use uom::si::torque::newton_meter;

use crate::input_error::InputError;
use crate::input_error::{ThrustLimit, UnitFault};
use crate::motor::{Drive, MotorKernel};
use crate::propulsion::params::{OperatingPoint, PropulsionUnit, ThrustCeiling};
use crate::propulsion::root::{last_positive, last_positive_near};
use crate::rotor::{Flow, Neighbour, Pair, PairFactors, RotorKernel, RotorParams, Work};
use crate::units::{AngularVelocity, ElectricCurrent, ElectricPotential, Force, MassDensity, Power, Torque};

/// The unit at a thrust in a flow. At zero thrust it stands still and draws nothing.
///
/// # Errors
/// `InputError::OutOfRange` for a parameter, thrust, density or flow outside its bound, a figure of merit above 1,
/// sinking faster than 1.5 times the hover induced velocity, or an advance ratio above 1.
pub fn operate(
    unit: &PropulsionUnit,
    air_density: MassDensity,
    thrust: Force,
    flow: &Flow,
) -> Result<OperatingPoint, InputError> {
    UnitKernel::new(unit, air_density, flow)?.point(RotorParams::THRUST.check(thrust.value)?, Neighbour::None)
}

/// The greatest thrust at a bus voltage under the current limits of motor and controller, sought first `near` one that is
/// known for a like state.
///
/// # Errors
/// As `operate`; `InputError::Unit` where not even the smallest thrust is possible.
pub fn ceiling(
    unit: &PropulsionUnit,
    air_density: MassDensity,
    bus_voltage: ElectricPotential,
    flow: &Flow,
    near: Option<Force>,
) -> Result<ThrustCeiling, InputError> {
    UnitKernel::new(unit, air_density, flow)?.ceiling(bus_voltage, Neighbour::None, near)
}

/// What is left at a ceiling, as a share of its limit.
pub(super) const TOLERANCE: f64 = 1e-9;

/// A unit at a thrust beside its limits.
#[derive(Debug, Clone, Copy)]
pub(super) struct AtLimits {
    thrust_n: f64,
    work: Work,
    drive: Drive,
    /// What is left of the limit that is closest, as a share of it; negative beyond.
    pub spare: f64,
    /// That limit.
    ruled_by: ThrustLimit,
}

impl AtLimits {
    /// This thrust as the greatest.
    pub(super) fn ceiling(self) -> Result<ThrustCeiling, InputError> {
        RotorParams::THRUST.check(self.thrust_n)?;
        Ok(ThrustCeiling {
            point: operating_point(self.thrust_n, self.work, self.drive)?,
            ruled_by: self.ruled_by,
        })
    }
}

fn operating_point(thrust_n: f64, work: Work, drive: Drive) -> Result<OperatingPoint, InputError> {
    let work = work.checked()?;
    Ok(OperatingPoint {
        thrust: Force::new::<newton>(thrust_n),
        speed: AngularVelocity::new::<radian_per_second>(work.speed_rad_s),
        torque: Torque::new::<newton_meter>(work.torque_n_m()),
        shaft_power: Power::new::<watt>(work.shaft_w()),
        motor_voltage: ElectricPotential::new::<volt>(drive.voltage_v),
        motor_current: ElectricCurrent::new::<ampere>(drive.current_a),
        bus_power: Power::new::<watt>(drive.bus_w),
    })
}

/// A unit in given air and flow, parameters checked.
#[derive(Debug, Clone, Copy)]
pub(super) struct UnitKernel {
    rotor: RotorKernel,
    motor: MotorKernel,
    density_kg_m3: f64,
    axial_m_s: f64,
    edgewise_m_s: f64,
    /// Greatest thrust measured; infinite without a table.
    measured_n: f64,
}

impl UnitKernel {
    pub(super) fn new(
        unit: &PropulsionUnit,
        air_density: MassDensity,
        flow: &Flow,
    ) -> Result<Self, InputError> {
        Ok(Self {
            rotor: RotorKernel::new(&unit.rotor)?,
            motor: MotorKernel::new(&unit.motor, &unit.controller)?,
            density_kg_m3: RotorParams::AIR_DENSITY.check(air_density.value)?,
            axial_m_s: Flow::AXIAL.check(flow.axial.value)?,
            edgewise_m_s: Flow::EDGEWISE.check(flow.edgewise.value)?,
            measured_n: unit.evidence.greatest_thrust().map_or(f64::INFINITY, |thrust| thrust.value),
        })
    }

    /// Rotor and motor at a thrust, not checked for validity.
    pub(super) fn raw(&self, thrust_n: f64, neighbour: Neighbour) -> (Work, Drive) {
        let work =
            self.rotor.work(thrust_n, self.density_kg_m3, self.axial_m_s, self.edgewise_m_s, neighbour);
        if work.speed_rad_s <= 0.0 {
            return (work, Drive::default());
        }
        (work, self.motor.drive(work.torque_n_m(), work.speed_rad_s))
    }

    /// Flow factors of upper and lower rotor at these thrusts.
    pub(super) fn factors(&self, pair: Pair) -> PairFactors {
        pair.factors(self.density_kg_m3 * self.rotor.area_m2(), self.axial_m_s)
    }

    pub(super) fn point(&self, thrust_n: f64, neighbour: Neighbour) -> Result<OperatingPoint, InputError> {
        let (work, drive) = self.raw(thrust_n, neighbour);
        operating_point(thrust_n, work, drive)
    }

    /// What is left of each limit at a thrust.
    pub(super) fn at_limits(&self, bus_v: f64, thrust_n: f64, neighbour: Neighbour) -> AtLimits {
        let (work, drive) = self.raw(thrust_n, neighbour);
        let limit_a = self.motor.motor_limit_a.min(self.motor.controller_limit_a);
        let mut at = AtLimits {
            thrust_n,
            work,
            drive,
            spare: 1.0 - drive.voltage_v / bus_v,
            ruled_by: ThrustLimit::BusVoltage,
        };
        let current_spare = 1.0 - drive.current_a / limit_a;
        if current_spare < at.spare {
            (at.spare, at.ruled_by) = (current_spare, self.current_limit());
        }
        let measured_spare = 1.0 - thrust_n / self.measured_n;
        if measured_spare < at.spare {
            (at.spare, at.ruled_by) = (measured_spare, ThrustLimit::BenchTable);
            if (0.0..=TOLERANCE).contains(&measured_spare) {
                at.thrust_n = self.measured_n;
            }
        }
        at
    }

    /// The greatest thrust, sought first `near` one that is known for a like state.
    pub(super) fn ceiling(
        &self,
        bus_voltage: ElectricPotential,
        neighbour: Neighbour,
        near: Option<Force>,
    ) -> Result<ThrustCeiling, InputError> {
        let bus_v = PropulsionUnit::BUS_VOLTAGE.check(bus_voltage.value)?;
        let spare = |root: f64| self.at_limits(bus_v, root * root, neighbour).spare;
        let known = near.and_then(|near| last_positive_near(near.value.sqrt(), TOLERANCE, spare));
        let root = match known {
            Some(root) => root,
            None => self.sought(bus_voltage, neighbour, &spare)?,
        };
        self.at_limits(bus_v, root * root, neighbour).ceiling()
    }

    /// The root of the greatest thrust, from nothing known.
    fn sought(
        &self,
        bus_voltage: ElectricPotential,
        neighbour: Neighbour,
        spare: &dyn Fn(f64) -> f64,
    ) -> Result<f64, InputError> {
        let no_thrust = |limit| InputError::Unit(UnitFault::NoThrust { limit, bus_voltage });
        let fastest_rad_s = self.motor.velocity_constant * bus_voltage.value;
        let fastest = self.rotor.static_thrust_n(fastest_rad_s, self.density_kg_m3);
        let least = 1e-4 * fastest.sqrt();
        if spare(least) <= 0.0 {
            let at = self.at_limits(bus_voltage.value, least * least, neighbour);
            return Err(no_thrust(at.ruled_by));
        }
        let mut most = 1.5 * fastest.sqrt();
        for _ in 0..8 {
            if spare(most) < 0.0 {
                break;
            }
            most *= 2.0;
        }
        last_positive(least, most, TOLERANCE, spare).ok_or(no_thrust(ThrustLimit::BusVoltage))
    }

    fn current_limit(&self) -> ThrustLimit {
        if self.motor.motor_limit_a <= self.motor.controller_limit_a {
            ThrustLimit::MotorCurrent
        } else {
            ThrustLimit::ControllerCurrent
        }
    }
}
