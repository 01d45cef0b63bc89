//! Learning a cell from runs with measured voltage and current, of one rate or of several together.
//!
//! Formula: least squares (Levenberg–Marquardt) of the cell's circuit driven by the measured current, over all runs at
//! once: resistance, ohmic share, time constant, rise at low charge (height, width, shift by current), bend of charge
//! transfer, and the error of the open-circuit curve at six states of charge. Each has a prior (`cell_prior.rs`), so what a
//! run cannot tell stays there with its whole spread: a single run at steady power cannot tell resistance from an error
//! of the curve, and its resistance then carries that doubt to other rates. Runs of different rate part the two, since
//! the curve's error is the same in all. Units: SI. Source: Gauss–Newton covariance, textbook; constants at their place.
//! Valid: one temperature, runs of some minutes or more. Checked: PyBaMM DFN runs and measured cells, `tests/it/learn.rs`.
//! Assumes: the current between two points is their mean; capacity is as given.

mod cell_fit;
mod cell_prior;
mod held_out;
mod measured_run;

use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::ohm;
use uom::si::power::watt;
use uom::si::ratio::ratio;

use super::behaviour::CellBehaviour;
use super::params::{CellParams, Chemistry};
use crate::input_error::{CellFault, InputError};
use crate::input_range::{InputRange, Kind};
use crate::units::{
    ElectricCharge, ElectricCurrent, ElectricPotential, ElectricalResistance, Power, Ratio, Time,
};
use cell_fit::CellFit;
pub(crate) use cell_fit::Variant;
use measured_run::MeasuredRun;

/// Range of the number of runs: 1 to 20.
pub static RUNS: InputRange = InputRange::new("runs", Kind::Count, 1.0, 20.0);
/// Range of the number of points: 10 to 100,000.
pub static RUN_POINTS: InputRange = InputRange::new("run_points", Kind::Count, 10.0, 100_000.0);
/// Range of the time between two points: 0.001 s to 10 min.
pub static RUN_INTERVAL: InputRange = InputRange::new("run_interval", Kind::Duration, 0.001, 600.0);
/// Range of a measured cell voltage: 1 to 5 V.
pub static RUN_VOLTAGE: InputRange = InputRange::new("run_voltage", Kind::Potential, 1.0, 5.0);
/// Range of a measured current: −2,000 to 2,000 A.
pub static RUN_CURRENT: InputRange = InputRange::new("run_current", Kind::Current, -2000.0, 2000.0);
/// Range of the state of charge at the start of a run.
pub static RUN_START: InputRange = InputRange::new("run_start_of_charge", Kind::Share, 0.0, 1.0);

/// Runs whose rates lie closer than this share tell no more of the rate than one.
const ONE_RATE: f64 = 1.1;
/// Rates over the greatest seen and under the least seen that may be asked for. From several runs the greatest counts,
/// but for how they are rounded; from one run its spread must hold up to twice the rate (`tests/it/learn.rs`).
const BEYOND_SEVERAL: f64 = 1.1;
const BEYOND_ONE: f64 = 2.1;
const BELOW: f64 = 0.45;
/// CellSpread of the resistance and mean held-out error from which curve and resistance are in doubt. Cells with the curve
/// on board stay below (0.23, 0.02 V), a measured cell with another curve does not (`tests/it/learn.rs`).
const SPREAD_IN_DOUBT: f64 = 0.3;
const HELD_OUT_IN_DOUBT_V: f64 = 0.030;

/// A moment of a run, of one cell.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RunPoint {
    /// Since any start.
    pub time: Time,
    /// Out of the cell.
    pub current: ElectricCurrent,
    /// Measured.
    pub voltage: ElectricPotential,
}

/// A run of one cell.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    /// Chemistry.
    pub chemistry: Chemistry,
    /// Capacity now.
    pub capacity: ElectricCharge,
    /// State of charge at the first point.
    pub start: Ratio,
    /// Points in time order.
    pub points: Vec<RunPoint>,
}

/// What runs teach.
#[derive(Debug, Clone, PartialEq)]
pub struct Learned {
    /// The cell with the resistance learned.
    pub cell: CellParams,
    /// Its behaviour with what was learned.
    pub behaviour: CellBehaviour,
    /// Mean absolute error of the voltage over the runs learned from: in-sample.
    pub mean_error: ElectricPotential,
    /// Mean absolute error of the voltage where it was held out: each run in turn, or each quarter of a single one.
    pub held_out_error: ElectricPotential,
    /// One standard deviation of the resistance, as a share.
    pub resistance_spread: Ratio,
    /// Root mean square of the open-circuit curve's error over the charge seen.
    pub curve_error: ElectricPotential,
    /// Whether curve and resistance could not be told apart with confidence: measure a second run at another rate.
    pub in_doubt: bool,
    /// Least mean power of a run.
    pub least_power: Power,
    /// Greatest mean power of a run.
    pub greatest_power: Power,
    /// Whether the runs differ in rate.
    pub several_rates: bool,
    /// Mean power of each run, W.
    powers_w: Vec<f64>,
    pub(crate) variants: Vec<Variant>,
}

/// Learns a cell from runs of it.
///
/// # Errors
/// `InputError::OutOfRange` for runs outside the ranges above, or when what is learned lies outside its own;
/// `CellFault::NotOneCell` where the runs differ in chemistry or capacity; `CellFault::NoDischarge` without a load.
pub fn learn(runs: &[Run]) -> Result<Learned, InputError> {
    RUNS.check(runs.len() as f64)?;
    let courses: Vec<MeasuredRun> = runs.iter().map(MeasuredRun::of).collect::<Result<_, _>>()?;
    let first = &runs[0];
    if runs.iter().any(|run| run.chemistry != first.chemistry || run.capacity != first.capacity) {
        return Err(InputError::Cell(CellFault::NotOneCell));
    }
    let mut powers_w = Vec::with_capacity(courses.len());
    for course in &courses {
        powers_w.push(course.mean_power_w().ok_or(InputError::Cell(CellFault::NoDischarge))?);
    }
    let least_w = powers_w.iter().copied().fold(f64::INFINITY, f64::min);
    let greatest_w = powers_w.iter().copied().fold(0.0, f64::max);
    let all: Vec<&MeasuredRun> = courses.iter().collect();
    let several_rates = greatest_w > ONE_RATE * least_w;
    let fit = CellFit::of(&all, &|_| true, several_rates);
    let held_out = held_out::held_out(&all, several_rates);
    let (resistance_ohm, behaviour) = fit.learned();
    let resistance = ElectricalResistance::new::<ohm>(CellParams::RESISTANCE.check(resistance_ohm)?);
    behaviour.check()?;
    let curve_error_v = fit.curve_error_v(&all);
    let mean_error_v = fit.mean_error_v(&all);
    let spread = fit.doubted().spread(held_out.inflation, several_rates);
    let in_doubt = spread.resistance > SPREAD_IN_DOUBT || held_out.mean_error_v > HELD_OUT_IN_DOUBT_V;
    Ok(Learned {
        cell: CellParams {
            chemistry: first.chemistry,
            capacity: first.capacity,
            resistance,
            resistance_spread: Ratio::new::<ratio>(spread.resistance),
        },
        behaviour,
        mean_error: ElectricPotential::new::<volt>(mean_error_v),
        held_out_error: ElectricPotential::new::<volt>(held_out.mean_error_v),
        resistance_spread: Ratio::new::<ratio>(spread.resistance),
        curve_error: ElectricPotential::new::<volt>(curve_error_v),
        in_doubt,
        least_power: Power::new::<watt>(least_w),
        greatest_power: Power::new::<watt>(greatest_w),
        several_rates,
        powers_w,
        variants: spread.variants,
    })
}

impl Learned {
    /// Passes a power of the cell at a rate that what was learned may speak of.
    ///
    /// # Errors
    /// `CellFault::BeyondRate` outside.
    pub fn check_rate(&self, power: Power) -> Result<Power, InputError> {
        let beyond = if self.several_rates { BEYOND_SEVERAL } else { BEYOND_ONE };
        let (least, greatest) = (self.least_power * BELOW, self.greatest_power * beyond);
        if power >= least && power <= greatest {
            Ok(power)
        } else {
            Err(InputError::Cell(CellFault::BeyondRate { asked: power, least, greatest }))
        }
    }

    /// How far a power lies from the nearest run's, as a logarithm.
    pub(crate) fn rate_distance(&self, power_w: f64) -> f64 {
        self.powers_w.iter().map(|run_w| (power_w / run_w).ln().abs()).fold(f64::INFINITY, f64::min)
    }
}

/// Voltages of a cell driven by a run's currents, at 25 °C, a voltage a point.
///
/// # Errors
/// `InputError::OutOfRange` for a run, resistance or behaviour outside its range.
pub fn predict(
    run: &Run,
    resistance: ElectricalResistance,
    behaviour: &CellBehaviour,
) -> Result<Vec<ElectricPotential>, InputError> {
    let course = MeasuredRun::of(run)?;
    let resistance_ohm = CellParams::RESISTANCE.check(resistance.value)?;
    behaviour.check()?;
    let voltages = course.voltages(resistance_ohm, behaviour);
    Ok(voltages.into_iter().map(ElectricPotential::new::<volt>).collect())
}
