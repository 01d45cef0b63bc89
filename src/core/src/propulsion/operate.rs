//! One propulsion unit at a thrust, and the greatest thrust that a bus voltage allows.
//!
//! The chain of `rotor` (thrust and flow to speed and torque) and `motor` (torque and speed to voltage, current and bus
//! power). The ceiling is the root of the smaller of 1 − v/V and 1 − i/i_limit over the square root of thrust, or what the
//! bench table measured where that is less: a table says nothing of what is beyond it.
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
use crate::propulsion::root::last_positive;
use crate::rotor::{Flow, Partner, RotorKernel, RotorParams, Work};
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
    UnitKernel::new(unit, air_density, flow)?.point(RotorParams::THRUST.check(thrust.value)?, None)
}

/// The greatest thrust at a bus voltage under the current limits of motor and controller.
///
/// # Errors
/// As `operate`; `InputError::Unit` where not even the smallest thrust is possible.
pub fn ceiling(
    unit: &PropulsionUnit,
    air_density: MassDensity,
    bus_voltage: ElectricPotential,
    flow: &Flow,
) -> Result<ThrustCeiling, InputError> {
    UnitKernel::new(unit, air_density, flow)?.ceiling(bus_voltage, None)
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
    pub(super) fn raw(&self, thrust_n: f64, partner: Option<Partner>) -> (Work, Drive) {
        let work = self.rotor.work(thrust_n, self.density_kg_m3, self.axial_m_s, self.edgewise_m_s, partner);
        if work.speed_rad_s <= 0.0 {
            return (work, Drive::default());
        }
        (work, self.motor.drive(work.torque_n_m(), work.speed_rad_s))
    }

    pub(super) fn point(
        &self,
        thrust_n: f64,
        partner: Option<Partner>,
    ) -> Result<OperatingPoint, InputError> {
        let (work, drive) = self.raw(thrust_n, partner);
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

    pub(super) fn ceiling(
        &self,
        bus_voltage: ElectricPotential,
        partner: Option<Partner>,
    ) -> Result<ThrustCeiling, InputError> {
        let bus_v = PropulsionUnit::BUS_VOLTAGE.check(bus_voltage.value)?;
        let motor = &self.motor;
        let limit_a = motor.motor_limit_a.min(motor.controller_limit_a);
        let spare = |root_thrust: f64| {
            let (_, drive) = self.raw(root_thrust * root_thrust, partner);
            (1.0 - drive.voltage_v / bus_v, 1.0 - drive.current_a / limit_a)
        };
        let fastest = self.rotor.static_thrust_n(motor.velocity_constant * bus_v, self.density_kg_m3);
        let least = 1e-4 * fastest.sqrt();
        let (voltage_spare, current_spare) = spare(least);
        if voltage_spare <= 0.0 || current_spare <= 0.0 {
            let limit =
                if voltage_spare <= current_spare { ThrustLimit::BusVoltage } else { self.current_limit() };
            return Err(InputError::Unit(UnitFault::NoThrust { limit, bus_voltage }));
        }
        if self.measured_n.is_finite() {
            let (voltage, current) = spare(self.measured_n.max(0.0).sqrt());
            if voltage >= 0.0 && current >= 0.0 {
                let thrust_n = RotorParams::THRUST.check(self.measured_n)?;
                return Ok(ThrustCeiling {
                    point: self.point(thrust_n, partner)?,
                    ruled_by: ThrustLimit::BenchTable,
                });
            }
        }
        let mut most = 1.5 * fastest.sqrt();
        for _ in 0..8 {
            let (voltage, current) = spare(most);
            if voltage.min(current) < 0.0 {
                break;
            }
            most *= 2.0;
        }
        let root = last_positive(least, most, 1e-9, |x| {
            let (voltage, current) = spare(x);
            voltage.min(current)
        })
        .ok_or(InputError::Unit(UnitFault::NoThrust { limit: ThrustLimit::BusVoltage, bus_voltage }))?;
        let (voltage_spare, current_spare) = spare(root);
        let ruled_by =
            if voltage_spare <= current_spare { ThrustLimit::BusVoltage } else { self.current_limit() };
        let thrust_n = RotorParams::THRUST.check(root * root)?;
        Ok(ThrustCeiling { point: self.point(thrust_n, partner)?, ruled_by })
    }

    fn current_limit(&self) -> ThrustLimit {
        if self.motor.motor_limit_a <= self.motor.controller_limit_a {
            ThrustLimit::MotorCurrent
        } else {
            ThrustLimit::ControllerCurrent
        }
    }
}
