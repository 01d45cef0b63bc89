//! A propulsion unit, and a coaxial pair of two, at a thrust in a flow.

use liftmargin_core::propulsion::{
    BenchRow, BenchTable, CoaxialParams, Declared, Evidence, OperatingPoint, Performance, PropulsionUnit,
    ThrustCeiling, estimate, fit, operate_pair, pair_ceiling, performance,
};
use liftmargin_core::rotor::{Flow, FlowWarning, flow_warnings};
use liftmargin_core::units::{
    AngularVelocity, ElectricCurrent, ElectricPotential, ElectricalResistance, Force, Length, MassDensity,
    Ratio, Velocity, VelocityConstant,
};
use serde::{Deserialize, Serialize};
use uom::si::angular_velocity::radian_per_second;
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::ohm;
use uom::si::force::newton;
use uom::si::length::meter;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::ratio::ratio;
use uom::si::velocity::meter_per_second;

use super::Figure;
use crate::error::DocumentError;
use crate::quantity::refused;

/// What the maker states.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Stated {
    diameter_m: f64,
    pitch_m: Option<f64>,
    velocity_constant_rad_s_v: Option<f64>,
    resistance_ohm: Option<f64>,
    no_load_current_a: Option<f64>,
    motor_current_limit_a: f64,
    controller_current_limit_a: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    throttle: Option<f64>,
    voltage_v: f64,
    current_a: f64,
    thrust_n: f64,
    rotor_speed_rad_s: Option<f64>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Bench {
    air_density_kg_m3: f64,
    rows: Vec<Row>,
}

/// Asks of one unit.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct UnitQuestion {
    declared: Stated,
    bench: Option<Bench>,
    thrust_n: f64,
    air_density_kg_m3: f64,
    #[serde(default)]
    axial_m_s: f64,
    #[serde(default)]
    edgewise_m_s: f64,
    bus_voltage_v: f64,
}

/// Asks of a coaxial pair.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct PairQuestion {
    declared: Stated,
    bench: Option<Bench>,
    spacing_m: f64,
    upper_thrust_n: f64,
    lower_thrust_n: f64,
    air_density_kg_m3: f64,
    #[serde(default)]
    axial_m_s: f64,
    #[serde(default)]
    edgewise_m_s: f64,
    bus_voltage_v: f64,
}

/// One rotor with its motor.
#[derive(Debug, Serialize)]
pub(super) struct AtWork {
    rotor_speed_rad_s: Figure,
    shaft_power_w: Figure,
    bus_power_w: Figure,
    throttle: Figure,
    greatest_thrust_n: Figure,
    greatest_thrust_ruled_by: &'static str,
}

#[derive(Debug, Serialize)]
pub(super) struct UnitAnswer {
    /// `bench` or `estimate`.
    evidence: &'static str,
    #[serde(flatten)]
    at_work: AtWork,
    /// What to be warned of in this flow.
    warnings: Vec<&'static str>,
}

#[derive(Debug, Serialize)]
pub(super) struct PairAnswer {
    evidence: &'static str,
    upper: AtWork,
    lower: AtWork,
    shaft_power_w: Figure,
    bus_power_w: Figure,
    /// Shaft power of the pair over that of two rotors alone at the same thrusts.
    shaft_power_over_two_alone: f64,
}

pub(super) fn unit(asked: &UnitQuestion) -> Result<UnitAnswer, DocumentError> {
    let unit = learned(&asked.declared, asked.bench.as_ref())?;
    let flow = flow(asked.axial_m_s, asked.edgewise_m_s);
    let (density, bus) = (density(asked.air_density_kg_m3), bus(asked.bus_voltage_v));
    let thrust = Force::new::<newton>(asked.thrust_n);
    let answer = || {
        let known = performance(&unit, density, thrust, &flow, bus)?;
        let warnings = flow_warnings(&unit.rotor, density, thrust, &flow)?;
        Ok(UnitAnswer {
            evidence: evidence(&unit),
            at_work: AtWork::of(&known),
            warnings: warnings.iter().map(warning).collect(),
        })
    };
    answer().map_err(|refusal| refused("", refusal))
}

pub(super) fn pair(asked: &PairQuestion) -> Result<PairAnswer, DocumentError> {
    let unit = learned(&asked.declared, asked.bench.as_ref())?;
    let flow = flow(asked.axial_m_s, asked.edgewise_m_s);
    let (density, bus) = (density(asked.air_density_kg_m3), bus(asked.bus_voltage_v));
    let coaxial = CoaxialParams { spacing: Length::new::<meter>(asked.spacing_m) };
    let [on_upper, on_lower] = [asked.upper_thrust_n, asked.lower_thrust_n].map(Force::new::<newton>);
    let answer = || {
        let (upper, lower) = operate_pair(&unit, &coaxial, density, on_upper, on_lower, &flow)?;
        let (most_upper, most_lower) = pair_ceiling(&unit, &coaxial, density, bus, &flow, None)?;
        let upper_alone = performance(&unit, density, on_upper, &flow, bus)?;
        let lower_alone = performance(&unit, density, on_lower, &flow, bus)?;
        let alone = upper_alone.shaft_power.value + lower_alone.shaft_power.value;
        let shaft = upper.shaft_power + lower.shaft_power;
        let of_both = |value: f64, known: Ratio| Figure {
            value,
            spread: known.value.hypot(CoaxialParams::POWER_SPREAD),
        };
        Ok(PairAnswer {
            evidence: evidence(&unit),
            upper: of_pair(&upper_alone, &upper, bus, &most_upper),
            lower: of_pair(&lower_alone, &lower, bus, &most_lower),
            shaft_power_w: of_both(shaft.value, upper_alone.shaft_power.spread),
            bus_power_w: of_both((upper.bus_power + lower.bus_power).value, upper_alone.bus_power.spread),
            shaft_power_over_two_alone: (shaft / alone).value,
        })
    };
    answer().map_err(|refusal| refused("", refusal))
}

fn learned(stated: &Stated, bench: Option<&Bench>) -> Result<PropulsionUnit, DocumentError> {
    let declared = Declared {
        diameter: Length::new::<meter>(stated.diameter_m),
        pitch: stated.pitch_m.map(Length::new::<meter>),
        velocity_constant: stated.velocity_constant_rad_s_v.map(VelocityConstant::from_rad_s_v),
        resistance: stated.resistance_ohm.map(ElectricalResistance::new::<ohm>),
        no_load_current: stated.no_load_current_a.map(ElectricCurrent::new::<ampere>),
        motor_current_limit: ElectricCurrent::new::<ampere>(stated.motor_current_limit_a),
        controller_current_limit: ElectricCurrent::new::<ampere>(stated.controller_current_limit_a),
    };
    let Some(bench) = bench else {
        return estimate(&declared).map_err(|refusal| refused("declared", refusal));
    };
    let rows = bench.rows.iter().map(|row| BenchRow {
        throttle: row.throttle.map(Ratio::new::<ratio>),
        voltage: ElectricPotential::new::<volt>(row.voltage_v),
        current: ElectricCurrent::new::<ampere>(row.current_a),
        thrust: Force::new::<newton>(row.thrust_n),
        speed: row.rotor_speed_rad_s.map(AngularVelocity::new::<radian_per_second>),
    });
    let table = BenchTable { rows: rows.collect(), air_density: density(bench.air_density_kg_m3) };
    fit(&table, &declared).map(|fit| fit.unit).map_err(|refusal| refused("bench", refusal))
}

fn flow(axial_m_s: f64, edgewise_m_s: f64) -> Flow {
    let [axial, edgewise] = [axial_m_s, edgewise_m_s].map(Velocity::new::<meter_per_second>);
    Flow { axial, edgewise }
}

fn density(kg_m3: f64) -> MassDensity {
    MassDensity::new::<kilogram_per_cubic_meter>(kg_m3)
}

fn bus(volts: f64) -> ElectricPotential {
    ElectricPotential::new::<volt>(volts)
}

fn evidence(unit: &PropulsionUnit) -> &'static str {
    match unit.evidence {
        Evidence::Bench { .. } => "bench",
        Evidence::Estimate { .. } => "estimate",
    }
}

fn warning(warning: &FlowWarning) -> &'static str {
    match warning {
        FlowWarning::VortexRingRisk { .. } => "vortex-ring-risk",
        FlowWarning::AdvanceRatioHigh { .. } => "advance-ratio-unchecked",
    }
}

/// A rotor of a pair: its own figures, with the spreads of a lone one and of the pair's law.
fn of_pair(
    alone: &Performance,
    point: &OperatingPoint,
    bus: ElectricPotential,
    most: &ThrustCeiling,
) -> AtWork {
    let own = AtWork::of(alone);
    let law =
        |value: f64, known: Figure| Figure { value, spread: known.spread.hypot(CoaxialParams::POWER_SPREAD) };
    AtWork {
        rotor_speed_rad_s: law(point.speed.value, own.rotor_speed_rad_s),
        shaft_power_w: law(point.shaft_power.value, own.shaft_power_w),
        bus_power_w: law(point.bus_power.value, own.bus_power_w),
        throttle: law(point.duty(bus).value, own.throttle),
        greatest_thrust_n: law(most.point.thrust.value, own.greatest_thrust_n),
        greatest_thrust_ruled_by: most.ruled_by.key(),
    }
}

impl AtWork {
    fn of(known: &Performance) -> Self {
        let figure = |value: f64, spread: Ratio| Figure { value, spread: spread.value };
        Self {
            rotor_speed_rad_s: figure(known.speed.value.value, known.speed.spread),
            shaft_power_w: figure(known.shaft_power.value.value, known.shaft_power.spread),
            bus_power_w: figure(known.bus_power.value.value, known.bus_power.spread),
            throttle: figure(known.throttle.value.value, known.throttle.spread),
            greatest_thrust_n: figure(known.greatest_thrust.value.value, known.greatest_thrust.spread),
            greatest_thrust_ruled_by: known.ruled_by.key(),
        }
    }
}
