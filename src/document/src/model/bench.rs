//! A bench table of an airframe's propulsion.

use liftmargin_core::input_range::{InputRange, Kind};
use liftmargin_core::rotor::RotorParams;
use serde::{Deserialize, Serialize};

use super::{Airframe, Extra, parts};
use crate::fields::{Entry, Field, Group, Number, part_fields};
use crate::present::Unit;

/// A bench table.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Bench {
    /// Where it comes from, in the crew's words.
    pub name: String,
    /// Air density at the stand.
    pub air_density_kg_m3: f64,
    /// Diameter of the rotor it was measured with; the airframe's own where it is not told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rotor_diameter_m: Option<f64>,
    /// Rows.
    pub rows: Vec<BenchRow>,
    /// Of a later version.
    #[serde(flatten)]
    pub extra: Extra,
}

/// One row. Any of it may be missing in the file; the fit needs voltage, current and thrust.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct BenchRow {
    /// Duty, 0 to 1.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub throttle: Option<f64>,
    /// At the speed controller.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub voltage_v: Option<f64>,
    /// Into the speed controller.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub current_a: Option<f64>,
    /// Static thrust.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub thrust_n: Option<f64>,
    /// Rotor speed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub speed_rpm: Option<f64>,
    /// Of a later version.
    #[serde(flatten)]
    pub extra: Extra,
}

parts!(Bench { rows });
parts!(BenchRow {});

/// 0 to full.
static THROTTLE: InputRange = InputRange::new("throttle", Kind::Share, 0.0, 1.0);
/// Nothing to more than any supply here; the fit is stricter and names the row.
static VOLTAGE: InputRange = InputRange::new("bench_voltage", Kind::Potential, 0.0, 300.0);
/// A meter's drift below nothing to the controllers' limits; as above.
static CURRENT: InputRange = InputRange::new("bench_current", Kind::Current, -5.0, 500.0);
/// A stand's drift below nothing to ten times what the largest rotors here give; as above.
static THRUST: InputRange = InputRange::new("bench_thrust", Kind::Force, -50.0, 5000.0);
/// 0 to 60,000 rpm.
static SPEED: InputRange = InputRange::new("bench_speed", Kind::RotationalSpeed, 0.0, 6_283.2);

part_fields! {
    BenchRow {
        BENCH_THROTTLE = (optional throttle, One, THROTTLE, "Throttle", "Of the speed controller, as the table has it.");
        BENCH_VOLTAGE = (needed voltage_v, Volt, VOLTAGE, "Bench voltage", "At the speed controller.");
        BENCH_CURRENT = (needed current_a, Ampere, CURRENT, "Bench current", "Into the speed controller.");
        BENCH_THRUST = (needed thrust_n, Newton, THRUST, "Bench thrust", "Static thrust of one rotor.");
        BENCH_SPEED = (optional speed_rpm, Rpm, SPEED, "Bench rotor speed", "Of the rotor, not the electrical one.");
    }
}

/// The air at the stand that a bench table was measured on. There is none without a table.
pub static BENCH_DENSITY: Field<Airframe> = Field {
    number: Number {
        path: "propulsion.bench.air_density_kg_m3",
        range: &RotorParams::AIR_DENSITY,
        optional: false,
        unit: Unit::KilogramPerCubicMetre,
        label: "Air density at the stand",
        help: "1.225 kg/m³ where the table does not say.",
    },
    get: |airframe| airframe.propulsion.bench.as_ref().map(|bench| bench.air_density_kg_m3),
    set: |airframe, value| {
        if let (Some(bench), Some(value)) = (&mut airframe.propulsion.bench, value) {
            bench.air_density_kg_m3 = value;
        }
    },
};

/// The rotor that a bench table was measured with.
pub static BENCH_ROTOR: Field<Airframe> = Field {
    number: Number {
        path: "propulsion.bench.rotor_diameter_m",
        range: &RotorParams::DIAMETER,
        optional: true,
        unit: Unit::Metre,
        label: "Rotor it was measured with",
        help: "Diameter. Empty is the rotor above; of another one the table tells less.",
    },
    get: |airframe| airframe.propulsion.bench.as_ref().and_then(|bench| bench.rotor_diameter_m),
    set: |airframe, value| {
        if let Some(bench) = &mut airframe.propulsion.bench {
            bench.rotor_diameter_m = value;
        }
    },
};

/// What is entered beside a bench table.
pub static BENCH: Group = &[&BENCH_DENSITY as &dyn Entry, &BENCH_ROTOR];
