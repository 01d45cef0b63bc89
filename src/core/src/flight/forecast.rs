//! A learned cell alone at a constant power, and how far that may be off.
//!
//! Formula: the learned cell and its variants (one standard deviation along each axis of the fit's covariance, either
//! way) are flown; squared differences from the learned one add up, each axis the mean of its two ways. Away
//! from the rates seen the resistance is in doubt as well, by `RESISTANCE_BY_RATE`. What is stated is
//! `NINE_IN_TEN` deviations. Units: SI. Source: propagation of covariance, textbook; the two constants and the least
//! error were chosen on Ai et al. 2020 and Chen et al. 2020 (`tests/references/cell_rates`) and held against other
//! cells. Valid: inside `Learned::check_rate`. Assumes: the cell keeps the temperature of the runs.

use uom::si::electric_charge::{ampere_hour, coulomb};
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::ohm;
use uom::si::mass::kilogram;
use uom::si::power::watt;
use uom::si::ratio::ratio;

use crate::cell::{CellBehaviour, CellParams, Learned, open_circuit_voltage};
use crate::flight::longest::fly_with;
use crate::flight::params::{Flight, FlightSettings, NoFlight, ReservePolicy};
use crate::input_error::InputError;
use crate::profile::LegDemand;
use crate::supply::{Health, Meter, MeterPlace, Pack, PackString, Supply};
use crate::units::{
    ElectricCharge, ElectricPotential, ElectricalResistance, Mass, Power, Ratio, ThermodynamicTemperature,
};

/// Deviations that nine in ten stay within: any table of the normal distribution, from memory.
const NINE_IN_TEN: f64 = 1.645;
/// Doubt of the resistance for each factor of e between the rate and the nearest run's: one standard deviation, as a share.
const RESISTANCE_BY_RATE: f64 = 0.10;
/// Doubt of the charge, a share, for the same.
const CHARGE_BY_RATE: f64 = 0.05;
/// Least deviations: of the charge as a share, of the voltage.
const LEAST_CHARGE: f64 = 0.015;
const LEAST_V: f64 = 0.006;
/// Mass of a cell for each Ah, for its warmth alone: common practice, no source.
const KG_PER_AH: f64 = 0.022;

/// One cell at a constant power.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CellTask {
    /// Held throughout.
    pub power: Power,
    /// Where it ends.
    pub loaded_cell_floor: ElectricPotential,
    /// State of charge at the start.
    pub start: Ratio,
    /// Of the cell.
    pub temperature: ThermodynamicTemperature,
}

/// What a learned cell does at a constant power.
#[derive(Debug, Clone, PartialEq)]
pub struct CellForecast {
    /// The discharge.
    pub flight: Flight,
    /// Charge delivered.
    pub delivered: ElectricCharge,
    /// Nine in ten real cells differ by less than this.
    pub delivered_error: ElectricCharge,
    /// The same of the loaded voltage at equal charge, mean over the discharge.
    pub voltage_error: ElectricPotential,
}

/// Flies a learned cell and says how far that may be off.
///
/// # Errors
/// `CellFault::BeyondRate` at a rate that the runs do not teach; `InputError` for a task outside its ranges.
pub fn forecast(learned: &Learned, task: &CellTask) -> Result<Result<CellForecast, NoFlight>, InputError> {
    learned.check_rate(task.power)?;
    let flight = match flown(&learned.cell, &learned.behaviour, task)? {
        Ok(flight) => flight,
        Err(none) => return Ok(Err(none)),
    };
    let (mut charge, mut voltage) = (SquareSum::default(), SquareSum::default());
    let mut add = |ways: [(f64, &CellBehaviour); 2]| {
        let off =
            ways.map(|(resistance_ohm, behaviour)| off(&flight, learned, task, resistance_ohm, behaviour));
        // A way that leaves the ranges of a cell counts as the other; where both do, nothing is known.
        let lost = (flight.marks.land_by.value, 0.0);
        let [one, other] = [off[0].or(off[1]).unwrap_or(lost), off[1].or(off[0]).unwrap_or(lost)];
        charge.add(one.0, other.0);
        voltage.add(one.1, other.1);
    };
    for ways in learned.variants.chunks_exact(2) {
        add([0, 1].map(|way| (ways[way].resistance_ohm, &ways[way].behaviour)));
    }
    let distance = learned.rate_distance(task.power.value);
    let by_rate = (RESISTANCE_BY_RATE * distance).exp();
    let resistance_ohm = learned.cell.resistance.value;
    add([resistance_ohm * by_rate, resistance_ohm / by_rate].map(|ohms| (ohms, &learned.behaviour)));
    let delivered = flight.marks.land_by;
    let off_c =
        NINE_IN_TEN * charge.root().hypot(LEAST_CHARGE.hypot(CHARGE_BY_RATE * distance) * delivered.value);
    // The fit's own error is there at every rate.
    let off_v = NINE_IN_TEN * voltage.root().hypot(LEAST_V.max(learned.mean_error.value));
    Ok(Ok(CellForecast {
        delivered,
        delivered_error: ElectricCharge::new::<coulomb>(off_c.min(delivered.value)),
        voltage_error: ElectricPotential::new::<volt>(off_v),
        flight,
    }))
}

#[derive(Default)]
struct SquareSum(f64);

impl SquareSum {
    /// The mean square of an axis' two ways.
    fn add(&mut self, one: f64, other: f64) {
        self.0 += 0.5 * (one * one + other * other);
    }

    fn root(&self) -> f64 {
        self.0.sqrt()
    }
}

/// How far a variant's charge and mean voltage are off; one that does not fly delivers nothing and says nothing of
/// voltage, one that is no cell says nothing at all.
fn off(
    flight: &Flight,
    learned: &Learned,
    task: &CellTask,
    resistance_ohm: f64,
    behaviour: &CellBehaviour,
) -> Option<(f64, f64)> {
    let cell = CellParams { resistance: ElectricalResistance::new::<ohm>(resistance_ohm), ..learned.cell };
    match flown(&cell, behaviour, task).ok()? {
        Ok(other) => {
            let charge = (other.marks.land_by - flight.marks.land_by).value;
            Some((charge, mean_distance_v(flight, &other)))
        }
        Err(_) => Some((flight.marks.land_by.value, 0.0)),
    }
}

/// Mean distance of the loaded voltages over the charge that both deliver.
fn mean_distance_v(one: &Flight, other: &Flight) -> f64 {
    let course = |flight: &Flight| -> Vec<(f64, f64)> {
        let first = |sample: &crate::flight::Sample| {
            sample.strings.first().map(|string| (string.state_of_charge.value, string.cell_voltage.value))
        };
        flight.samples.iter().filter_map(first).collect()
    };
    let other = course(other);
    let (mut sum, mut count) = (0.0, 0.0);
    for (charge, voltage_v) in course(one) {
        let after = other.partition_point(|&(at, _)| at > charge);
        if after == 0 || after == other.len() {
            continue;
        }
        let ((from, from_v), (to, to_v)) = (other[after - 1], other[after]);
        let into = if from > to { (from - charge) / (from - to) } else { 0.0 };
        sum += (from_v + into * (to_v - from_v) - voltage_v).abs();
        count += 1.0;
    }
    if count > 0.0 { sum / count } else { 0.0 }
}

fn flown(
    cell: &CellParams,
    behaviour: &CellBehaviour,
    task: &CellTask,
) -> Result<Result<Flight, NoFlight>, InputError> {
    let bare = ElectricalResistance::new::<ohm>(0.0);
    let capacity_ah = cell.capacity.get::<ampere_hour>();
    let pack = Pack {
        cell: *cell,
        cells_in_series: 1,
        mass: Mass::new::<kilogram>((KG_PER_AH * capacity_ah).max(Pack::MASS.min)),
        // No rating is asked of a lone cell; the greatest that a pack may have.
        continuous_c_rating: Ratio::new::<ratio>(Pack::CONTINUOUS_C_RATING.max),
        health: Health { cycles: 0, measured_capacity: None, measured_cell_resistance: None },
        rest_voltage: Some(open_circuit_voltage(cell.chemistry, task.start)?),
        temperature: task.temperature,
    };
    let supply = Supply {
        strings: vec![PackString { packs: vec![pack] }],
        string_resistance: bare,
        bus_resistance: bare,
        auxiliary_power: Power::new::<watt>(0.0),
        converter_efficiency: Ratio::new::<ratio>(1.0),
        meter: Meter { place: MeterPlace::Bus, scale_error: Ratio::new::<ratio>(0.0) },
    };
    let demand = LegDemand { outbound: Vec::new(), on_set: task.power, homebound: Vec::new() };
    let policy = ReservePolicy {
        share: Ratio::new::<ratio>(0.0),
        time: None,
        charge: None,
        loaded_cell_floor: task.loaded_cell_floor,
    };
    let settings = FlightSettings { behaviour: *behaviour, ..FlightSettings::default() };
    fly_with(&supply, &demand, &policy, &settings)
}
