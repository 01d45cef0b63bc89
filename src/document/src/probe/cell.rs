//! A cell learned from runs, and flown at a constant power until a loaded voltage.

use liftmargin_core::cell::{Learned, Run, RunPoint, learn, open_circuit_voltage};
use liftmargin_core::flight::{Flight, FlightSettings, NoFlight, ReservePolicy, fly_with};
use liftmargin_core::input_error::InputError;
use liftmargin_core::profile::LegDemand;
use liftmargin_core::supply::{Health, Meter, MeterPlace, Pack, PackString, Supply};
use liftmargin_core::units::{
    ElectricCharge, ElectricCurrent, ElectricPotential, ElectricalResistance, Mass, Power, Ratio,
    ThermodynamicTemperature, Time,
};
use serde::{Deserialize, Serialize};
use uom::si::electric_charge::{ampere_hour, coulomb};
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::ohm;
use uom::si::mass::kilogram;
use uom::si::power::watt;
use uom::si::ratio::ratio;
use uom::si::thermodynamic_temperature::kelvin;
use uom::si::time::second;

use crate::error::DocumentError;
use crate::keys;
use crate::quantity::refused;

/// The temperature that learning and curves stand for.
const LEARNED_AT_K: f64 = 298.15;
/// Mass of a cell for each Ah, for its warmth alone: common practice, no source.
const KG_PER_AH: f64 = 0.022;
/// No rating is asked of a lone cell; the greatest that a pack may have.
const RATING_C: f64 = Pack::CONTINUOUS_C_RATING.max;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Moment {
    time_s: f64,
    current_a: f64,
    voltage_v: f64,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Measured {
    start_state_of_charge: f64,
    points: Vec<Moment>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Flown {
    power_w: f64,
    loaded_cell_floor_v: f64,
    #[serde(default = "full")]
    start_state_of_charge: f64,
    #[serde(default = "learned_at")]
    temperature_k: f64,
}

fn full() -> f64 {
    1.0
}

fn learned_at() -> f64 {
    LEARNED_AT_K
}

/// Asks of a cell.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct CellQuestion {
    chemistry: String,
    capacity_c: f64,
    runs: Vec<Measured>,
    flown: Flown,
}

#[derive(Debug, Serialize)]
pub(super) struct CellAnswer {
    resistance_ohm: f64,
    ohmic_share: f64,
    time_constant_s: f64,
    /// Of the voltage over the runs learned from.
    mean_error_v: f64,
    delivered_c: f64,
    flight_time_s: f64,
    /// Key of what ends it.
    limit: &'static str,
    samples: Vec<Sample>,
}

#[derive(Debug, Serialize)]
struct Sample {
    time_s: f64,
    current_a: f64,
    voltage_v: f64,
    state_of_charge: f64,
}

pub(super) fn cell(asked: &CellQuestion) -> Result<CellAnswer, DocumentError> {
    let learned = learned(asked)?;
    let flight = flight(asked, &learned)
        .map_err(|refusal| refused("flown", refusal))?
        .map_err(|none| no_flight(asked, &none))?;
    let sample = |sample: &liftmargin_core::flight::Sample| {
        sample.strings.first().map(|string| Sample {
            time_s: sample.time.value,
            current_a: string.current.value,
            voltage_v: string.cell_voltage.value,
            state_of_charge: string.state_of_charge.value,
        })
    };
    Ok(CellAnswer {
        resistance_ohm: learned.cell.resistance.value,
        ohmic_share: learned.behaviour.ohmic_share.value,
        time_constant_s: learned.behaviour.time_constant.value,
        mean_error_v: learned.mean_error.value,
        delivered_c: flight.marks.land_by.value,
        flight_time_s: flight.land_by_at.value,
        limit: flight.limit.key(),
        samples: flight.samples.iter().filter_map(sample).collect(),
    })
}

fn learned(asked: &CellQuestion) -> Result<Learned, DocumentError> {
    let chemistry = keys::chemistry("chemistry", &asked.chemistry)?;
    let capacity = ElectricCharge::new::<coulomb>(asked.capacity_c);
    let [measured] = asked.runs.as_slice() else {
        return Err(DocumentError::Contradiction {
            path: "runs".to_owned(),
            value: format!("{} runs", asked.runs.len()),
            allowed: "one run".to_owned(),
        });
    };
    let points = measured.points.iter().map(|point| RunPoint {
        time: Time::new::<second>(point.time_s),
        current: ElectricCurrent::new::<ampere>(point.current_a),
        voltage: ElectricPotential::new::<volt>(point.voltage_v),
    });
    let start = Ratio::new::<ratio>(measured.start_state_of_charge);
    learn(&Run { chemistry, capacity, start, points: points.collect() })
        .map_err(|refusal| refused("runs[0]", refusal))
}

fn flight(asked: &CellQuestion, learned: &Learned) -> Result<Result<Flight, NoFlight>, InputError> {
    let flown = &asked.flown;
    let start = Ratio::new::<ratio>(flown.start_state_of_charge);
    let capacity_ah = learned.cell.capacity.get::<ampere_hour>();
    let pack = Pack {
        cell: learned.cell,
        cells_in_series: 1,
        mass: Mass::new::<kilogram>((KG_PER_AH * capacity_ah).max(Pack::MASS.min)),
        continuous_c_rating: Ratio::new::<ratio>(RATING_C),
        health: Health { cycles: 0, measured_capacity: None, measured_cell_resistance: None },
        rest_voltage: Some(open_circuit_voltage(learned.cell.chemistry, start)?),
        temperature: ThermodynamicTemperature::new::<kelvin>(flown.temperature_k),
    };
    let supply = Supply {
        strings: vec![PackString { packs: vec![pack] }],
        string_resistance: ElectricalResistance::new::<ohm>(0.0),
        bus_resistance: ElectricalResistance::new::<ohm>(0.0),
        auxiliary_power: Power::new::<watt>(0.0),
        converter_efficiency: Ratio::new::<ratio>(1.0),
        meter: Meter { place: MeterPlace::Bus, scale_error: Ratio::new::<ratio>(0.0) },
    };
    let on_set = Power::new::<watt>(flown.power_w);
    let demand = LegDemand { outbound: Vec::new(), on_set, homebound: Vec::new() };
    let policy = ReservePolicy {
        share: Ratio::new::<ratio>(0.0),
        time: None,
        charge: None,
        loaded_cell_floor: ElectricPotential::new::<volt>(flown.loaded_cell_floor_v),
    };
    let settings = FlightSettings { behaviour: learned.behaviour, ..FlightSettings::default() };
    fly_with(&supply, &demand, &policy, &settings)
}

fn no_flight(asked: &CellQuestion, none: &NoFlight) -> DocumentError {
    let allowed = match none {
        NoFlight::TooLittleCharge { limit, .. } => {
            format!("a power at which the cell does not break {} at once", limit.key())
        }
        NoFlight::VoltageCollapse { greatest, .. } => format!("up to {} W", greatest.value),
    };
    DocumentError::Contradiction {
        path: "flown.power_w".to_owned(),
        value: asked.flown.power_w.to_string(),
        allowed,
    }
}
