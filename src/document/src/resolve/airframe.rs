//! An airframe of the file as core's parameters, up to the fit of its bench table.

use liftmargin_core::card::Airframe as CoreAirframe;
use liftmargin_core::input_range::{InputRange, Kind};
use liftmargin_core::mass::Item;
use liftmargin_core::motor::{ControllerParams, MotorParams};
use liftmargin_core::propulsion::{BenchRow, BenchTable, Declared};
use liftmargin_core::rotor::{CoaxialParams, RotorParams};
use liftmargin_core::units::{
    AngularVelocity, Area, ElectricCurrent, ElectricPotential, ElectricalResistance, Force, Length, Mass,
    MassDensity, Power, Ratio, VelocityConstant,
};
use uom::si::angular_velocity::radian_per_second;
use uom::si::area::square_meter;
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::ohm;
use uom::si::force::newton;
use uom::si::length::meter;
use uom::si::mass::kilogram;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::ratio::ratio;

use super::layout::{LayoutParts, layout_parts};
use crate::error::DocumentError;
use crate::quantity::{position, si, si_if_there};
use crate::schema;

/// A flat disc to a pitch of two metres.
pub(crate) const ROTOR_PITCH: InputRange = InputRange::new("rotor_pitch", Kind::PartLength, 0.01, 2.0);
/// 0 to full.
const THROTTLE: InputRange = InputRange::new("throttle", Kind::Share, 0.0, 1.0);
/// Nothing to more than any supply here; the fit is stricter and names the row.
const VOLTAGE: InputRange = InputRange::new("bench_voltage", Kind::Potential, 0.0, 300.0);
/// A meter's drift below nothing to the controllers' limits; as above.
const CURRENT: InputRange = InputRange::new("bench_current", Kind::Current, -5.0, 500.0);
/// A stand's drift below nothing to ten times what the largest rotors here give; as above.
const THRUST: InputRange = InputRange::new("bench_thrust", Kind::Force, -50.0, 5000.0);
/// 0 to 60,000 rpm.
const SPEED: InputRange = InputRange::new("bench_speed", Kind::RotationalSpeed, 0.0, 6_283.2);

/// The declared data and the table, checked, before anything is learned from them.
#[derive(Debug, Clone, PartialEq)]
pub struct AirframeParts {
    /// Rotor places as entered.
    pub layout: LayoutParts,
    /// What the makers state of the propulsion unit.
    pub declared: Declared,
    /// The bench table, if there is one.
    pub bench: Option<BenchTable>,
    /// The maker's greatest all-up mass, if stated.
    pub mass_limit: Option<Mass>,
    /// The stated drag area, if any.
    pub drag_area: Option<Area>,
    /// How coaxial pairs work together.
    pub coaxial: CoaxialParams,
    /// The bare frame as a thing with mass.
    pub frame: Item,
}

/// An airframe taken apart: units converted, every number checked, nothing learned yet.
///
/// # Errors
/// `Refused` and `UnknownKey`, with paths below the airframe.
pub fn airframe_parts(airframe: &schema::Airframe) -> Result<AirframeParts, DocumentError> {
    let limit = si_if_there("mass_limit_kg", airframe.mass_limit_kg, &CoreAirframe::MASS_LIMIT)?;
    let drag = si_if_there("drag_area_m2", airframe.drag_area_m2, &CoreAirframe::DRAG_AREA)?;
    let wake = si_if_there(
        "wake_contraction_percent",
        airframe.wake_contraction_percent,
        &CoaxialParams::WAKE_CONTRACTION,
    )?;
    let bench = airframe.propulsion.bench.as_ref().map(bench).transpose();
    Ok(AirframeParts {
        frame: frame(airframe)?,
        layout: layout_parts(&airframe.layout).map_err(|fault| fault.under("layout"))?,
        declared: declared(&airframe.propulsion).map_err(|fault| fault.under("propulsion"))?,
        bench: bench.map_err(|fault| fault.under("propulsion.bench"))?,
        mass_limit: limit.map(Mass::new::<kilogram>),
        drag_area: drag.map(Area::new::<square_meter>),
        coaxial: wake.map_or_else(CoaxialParams::default, |share| CoaxialParams {
            wake_contraction: Ratio::new::<ratio>(share),
        }),
    })
}

/// The bare frame as a thing with mass.
pub(crate) fn frame(airframe: &schema::Airframe) -> Result<Item, DocumentError> {
    Ok(Item {
        mass: Mass::new::<kilogram>(si("frame_mass_kg", airframe.frame_mass_kg, &Item::MASS)?),
        position: position("frame_position_m", airframe.frame_position_m)?,
        power: Power::default(),
    })
}

fn declared(propulsion: &schema::Propulsion) -> Result<Declared, DocumentError> {
    let pitch = si_if_there("rotor_pitch_m", propulsion.rotor_pitch_m, &ROTOR_PITCH)?;
    let velocity_constant = si_if_there(
        "velocity_constant_rpm_v",
        propulsion.velocity_constant_rpm_v,
        &MotorParams::VELOCITY_CONSTANT,
    )?;
    let resistance =
        si_if_there("motor_resistance_ohm", propulsion.motor_resistance_ohm, &MotorParams::RESISTANCE)?;
    let no_load =
        si_if_there("no_load_current_a", propulsion.no_load_current_a, &MotorParams::NO_LOAD_CURRENT)?;
    let current = |path: &str, value: f64, range| si(path, value, range).map(ElectricCurrent::new::<ampere>);
    Ok(Declared {
        diameter: Length::new::<meter>(si(
            "rotor_diameter_m",
            propulsion.rotor_diameter_m,
            &RotorParams::DIAMETER,
        )?),
        pitch: pitch.map(Length::new::<meter>),
        velocity_constant: velocity_constant.map(VelocityConstant::from_rad_s_v),
        resistance: resistance.map(ElectricalResistance::new::<ohm>),
        no_load_current: no_load.map(ElectricCurrent::new::<ampere>),
        motor_current_limit: current(
            "motor_current_limit_a",
            propulsion.motor_current_limit_a,
            &MotorParams::CURRENT_LIMIT,
        )?,
        controller_current_limit: current(
            "controller_current_limit_a",
            propulsion.controller_current_limit_a,
            &ControllerParams::CURRENT_LIMIT,
        )?,
    })
}

/// A bench table of the file as core's.
///
/// # Errors
/// `DocumentError::Refused` with the path below the table.
pub fn bench(bench: &schema::Bench) -> Result<BenchTable, DocumentError> {
    let density = si("air_density_kg_m3", bench.air_density_kg_m3, &RotorParams::AIR_DENSITY)?;
    let rows = bench.rows.iter().enumerate();
    let rows =
        rows.map(|(index, row)| bench_row(row).map_err(|fault| fault.under(&format!("rows[{index}]"))));
    Ok(BenchTable {
        rows: rows.collect::<Result<_, _>>()?,
        air_density: MassDensity::new::<kilogram_per_cubic_meter>(density),
    })
}

fn bench_row(row: &schema::BenchRow) -> Result<BenchRow, DocumentError> {
    Ok(BenchRow {
        throttle: si_if_there("throttle", row.throttle, &THROTTLE)?.map(Ratio::new::<ratio>),
        voltage: ElectricPotential::new::<volt>(si("voltage_v", row.voltage_v, &VOLTAGE)?),
        current: ElectricCurrent::new::<ampere>(si("current_a", row.current_a, &CURRENT)?),
        thrust: Force::new::<newton>(si("thrust_n", row.thrust_n, &THRUST)?),
        speed: si_if_there("speed_rpm", row.speed_rpm, &SPEED)?
            .map(AngularVelocity::new::<radian_per_second>),
    })
}
