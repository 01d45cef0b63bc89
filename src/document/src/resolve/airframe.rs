//! An airframe of the file as core's parameters, up to the fit of its bench table.

use liftmargin_core::aircraft::Airframe;
use liftmargin_core::mass::Item;
use liftmargin_core::propulsion::{BenchRow, BenchTable, Declared};
use liftmargin_core::units::{
    Angle, AngularVelocity, Area, ElectricCurrent, ElectricPotential, ElectricalResistance, Force, Length,
    Mass, MassDensity, Power, Ratio, VelocityConstant,
};
use uom::si::angle::radian;
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
use crate::fields::Field;
use crate::model::{self, numbers as n};
use crate::quantity::position;

/// The declared data and the table, checked, before anything is learned from them.
#[derive(Debug, Clone, PartialEq)]
pub struct AirframeParts {
    /// Rotor places as entered.
    pub layout: LayoutParts,
    /// What the makers state of the propulsion unit.
    pub declared: Declared,
    /// The bench table, if there is one.
    pub bench: Option<BenchTable>,
    /// The rotor that the table was measured with.
    pub measured_rotor: Option<Length>,
    /// The maker's greatest all-up mass, if stated.
    pub mass_limit: Option<Mass>,
    /// The stated drag area, if any.
    pub drag_area: Option<Area>,
    /// Greatest lean.
    pub tilt_limit: Angle,
    /// The bare frame as a thing with mass.
    pub frame: Item,
}

/// An airframe taken apart: units converted, every number checked, nothing learned yet.
///
/// # Errors
/// `Refused` and `UnknownKey`, with paths below the airframe.
pub fn airframe_parts(airframe: &model::Airframe) -> Result<AirframeParts, DocumentError> {
    let bench = airframe.propulsion.bench.as_ref().map(|table| bench_of(airframe, table)).transpose()?;
    Ok(AirframeParts {
        frame: frame(airframe)?,
        layout: layout_parts(airframe)?,
        declared: declared(airframe)?,
        bench,
        measured_rotor: n::BENCH_ROTOR.si_if_there(airframe)?.map(Length::new::<meter>),
        mass_limit: n::MASS_LIMIT.si_if_there(airframe)?.map(Mass::new::<kilogram>),
        drag_area: n::DRAG_AREA.si_if_there(airframe)?.map(Area::new::<square_meter>),
        tilt_limit: n::TILT_LIMIT
            .si_if_there(airframe)?
            .map_or_else(Airframe::usual_tilt_limit, Angle::new::<radian>),
    })
}

/// The bare frame as a thing with mass.
pub(crate) fn frame(airframe: &model::Airframe) -> Result<Item, DocumentError> {
    Ok(Item {
        mass: Mass::new::<kilogram>(n::FRAME_MASS.si(airframe)?),
        position: position(n::FRAME_AXES, airframe)?,
        power: Power::default(),
    })
}

fn declared(airframe: &model::Airframe) -> Result<Declared, DocumentError> {
    let current = |field: &'static Field<_>| field.si(airframe).map(ElectricCurrent::new::<ampere>);
    Ok(Declared {
        diameter: Length::new::<meter>(n::ROTOR_DIAMETER.si(airframe)?),
        pitch: n::ROTOR_PITCH.si_if_there(airframe)?.map(Length::new::<meter>),
        velocity_constant: n::VELOCITY_CONSTANT.si_if_there(airframe)?.map(VelocityConstant::from_rad_s_v),
        resistance: n::MOTOR_RESISTANCE.si_if_there(airframe)?.map(ElectricalResistance::new::<ohm>),
        no_load_current: n::NO_LOAD_CURRENT.si_if_there(airframe)?.map(ElectricCurrent::new::<ampere>),
        motor_current_limit: current(&n::MOTOR_CURRENT_LIMIT)?,
        controller_current_limit: current(&n::CONTROLLER_CURRENT_LIMIT)?,
    })
}

/// The bench table of an airframe as core's; paths below the airframe.
fn bench_of(airframe: &model::Airframe, table: &model::Bench) -> Result<BenchTable, DocumentError> {
    let density = n::BENCH_DENSITY.si(airframe)?;
    let rows = table.rows.iter().enumerate();
    let rows = rows.map(|(index, row)| {
        bench_row(row).map_err(|fault| fault.under(&format!("propulsion.bench.rows[{index}]")))
    });
    Ok(BenchTable {
        rows: rows.collect::<Result<_, _>>()?,
        air_density: MassDensity::new::<kilogram_per_cubic_meter>(density),
    })
}

fn bench_row(row: &model::BenchRow) -> Result<BenchRow, DocumentError> {
    Ok(BenchRow {
        throttle: n::BENCH_THROTTLE.si_if_there(row)?.map(Ratio::new::<ratio>),
        voltage: ElectricPotential::new::<volt>(n::BENCH_VOLTAGE.si(row)?),
        current: ElectricCurrent::new::<ampere>(n::BENCH_CURRENT.si(row)?),
        thrust: Force::new::<newton>(n::BENCH_THRUST.si(row)?),
        speed: n::BENCH_SPEED.si_if_there(row)?.map(AngularVelocity::new::<radian_per_second>),
    })
}
