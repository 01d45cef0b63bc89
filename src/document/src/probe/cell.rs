//! A cell learned from runs, and flown at a constant power until a loaded voltage.

use liftmargin_core::cell::{CellBehaviour, CellFault, Learned, Run, RunPoint, learn, predict};
use liftmargin_core::flight::{CellTask, NoFlight, forecast};
use liftmargin_core::input_error::InputError;
use liftmargin_core::units::{
    ElectricCharge, ElectricCurrent, ElectricPotential, ElectricalResistance, Power, Ratio,
    ThermodynamicTemperature, Time,
};
use serde::{Deserialize, Serialize};
use uom::si::electric_charge::coulomb;
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::ohm;
use uom::si::power::watt;
use uom::si::ratio::ratio;
use uom::si::thermodynamic_temperature::kelvin;
use uom::si::time::second;

use crate::error::DocumentError;
use crate::keys;
use crate::quantity::refused;

/// The temperature that learning and curves stand for.
const LEARNED_AT_K: f64 = 298.15;

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
    /// Of the voltage where it was held out: each run in turn, or each quarter of a single one.
    held_out_error_v: f64,
    /// One standard deviation, as a share.
    resistance_spread: f64,
    /// Of the open-circuit curve, root mean square over the charge seen.
    curve_error_v: f64,
    /// Nine in ten differ by less.
    stated_error_c: f64,
    /// The same, mean over the discharge at equal charge.
    stated_error_v: f64,
    /// `delivered_c` less its stated error.
    cautious_delivered_c: f64,
    warnings: Vec<&'static str>,
    samples: Vec<Sample>,
}

#[derive(Debug, Serialize)]
struct Sample {
    time_s: f64,
    current_a: f64,
    voltage_v: f64,
    state_of_charge: f64,
}

/// Curve and resistance may have been taken for each other.
const IN_DOUBT: &str = "curve-or-resistance-in-doubt";

pub(super) fn cell(asked: &CellQuestion) -> Result<CellAnswer, DocumentError> {
    let learned = learned(asked)?;
    let flown = &asked.flown;
    let task = CellTask {
        power: Power::new::<watt>(flown.power_w),
        loaded_cell_floor: ElectricPotential::new::<volt>(flown.loaded_cell_floor_v),
        start: Ratio::new::<ratio>(flown.start_state_of_charge),
        temperature: ThermodynamicTemperature::new::<kelvin>(flown.temperature_k),
    };
    let forecast = forecast(&learned, &task)
        .map_err(|refusal| beyond(flown.power_w, refusal))?
        .map_err(|none| no_flight(asked, &none))?;
    let sample = |sample: &liftmargin_core::flight::Sample| {
        sample.strings.first().map(|string| Sample {
            time_s: sample.time.value,
            current_a: string.current.value,
            voltage_v: string.cell_voltage.value,
            state_of_charge: string.state_of_charge.value,
        })
    };
    let (flight, delivered_c) = (&forecast.flight, forecast.delivered.value);
    Ok(CellAnswer {
        resistance_ohm: learned.cell.resistance.value,
        ohmic_share: learned.behaviour.ohmic_share.value,
        time_constant_s: learned.behaviour.time_constant.value,
        mean_error_v: learned.mean_error.value,
        delivered_c,
        flight_time_s: flight.land_by_at.value,
        limit: flight.limit.key(),
        held_out_error_v: learned.held_out_error.value,
        resistance_spread: learned.resistance_spread.value,
        curve_error_v: learned.curve_error.value,
        stated_error_c: forecast.delivered_error.value,
        stated_error_v: forecast.voltage_error.value,
        cautious_delivered_c: (delivered_c - forecast.delivered_error.value).max(0.0),
        warnings: if learned.in_doubt { vec![IN_DOUBT] } else { Vec::new() },
        samples: flight.samples.iter().filter_map(sample).collect(),
    })
}

fn learned(asked: &CellQuestion) -> Result<Learned, DocumentError> {
    let chemistry = keys::chemistry("chemistry", &asked.chemistry)?;
    let capacity = ElectricCharge::new::<coulomb>(asked.capacity_c);
    let run = |measured: &Measured| {
        let points = measured.points.iter().map(|point| RunPoint {
            time: Time::new::<second>(point.time_s),
            current: ElectricCurrent::new::<ampere>(point.current_a),
            voltage: ElectricPotential::new::<volt>(point.voltage_v),
        });
        let start = Ratio::new::<ratio>(measured.start_state_of_charge);
        Run { chemistry, capacity, start, points: points.collect() }
    };
    let runs: Vec<Run> = asked.runs.iter().map(run).collect();
    learn(&runs).map_err(|refusal| refused(&where_refused(&runs), refusal))
}

/// The first run that is refused by itself, or all of them.
fn where_refused(runs: &[Run]) -> String {
    let alone = |run: &Run| predict(run, ElectricalResistance::new::<ohm>(0.01), &CellBehaviour::default());
    match runs.iter().position(|run| alone(run).is_err()) {
        Some(index) => format!("runs[{index}]"),
        None => "runs".to_owned(),
    }
}

fn beyond(power_w: f64, refusal: InputError) -> DocumentError {
    match refusal {
        InputError::Cell(CellFault::BeyondRate { .. }) => DocumentError::Refused {
            path: "flown.power_w".to_owned(),
            value: power_w.to_string(),
            refusal,
            number: None,
        },
        refusal => refused("flown", refusal),
    }
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
