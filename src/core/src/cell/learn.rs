//! Learning a cell's resistance from a run with measured voltage and current.
//!
//! Formula: least squares (Levenberg–Marquardt) of the cell's circuit driven by the measured current, over resistance,
//! ohmic share, time constant, and height and width of the rise at low charge; capacity and curve stay as given.
//! Each is fitted as a logarithm (the share as log odds), so it stays positive. A faint pull of 1 mV a unit towards
//! the defaults keeps what the run cannot tell. Units: SI. Valid: one temperature, a run of some minutes or more.
//! Assumes: the current between two points is their mean.

use levenberg_marquardt::{LeastSquaresProblem, LevenbergMarquardt};
use nalgebra::{DVector, Dyn, Matrix, OMatrix, Owned, U5, Vector5};
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::ohm;
use uom::si::ratio::ratio;
use uom::si::time::second;

use super::behaviour::CellBehaviour;
use super::open_circuit;
use super::params::{CellParams, Chemistry};
use crate::input_error::InputError;
use crate::input_range::{InputRange, Kind};
use crate::units::{ElectricCharge, ElectricCurrent, ElectricPotential, ElectricalResistance, Ratio, Time};

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

/// The pull towards the defaults, V for each unit of a logarithm.
const PULL_V: f64 = 0.001;

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

/// What a run teaches.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Learned {
    /// The cell with the resistance learned.
    pub cell: CellParams,
    /// Its behaviour with what was learned.
    pub behaviour: CellBehaviour,
    /// Mean absolute error of the voltage over the run.
    pub mean_error: ElectricPotential,
}

/// Learns resistance and its course from a run.
///
/// # Errors
/// `InputError::OutOfRange` for a run outside the ranges above, or when what is learned lies outside its own.
pub fn learn(run: &Run) -> Result<Learned, InputError> {
    let course = PlainRun::of(run)?;
    let start = guess(&course);
    let fit = RunFit { course: &course, prior: start, at: start };
    let (fit, _) = LevenbergMarquardt::new().minimize(fit);
    let (resistance_ohm, behaviour) = unpacked(&fit.at);
    let resistance = ElectricalResistance::new::<ohm>(CellParams::RESISTANCE.check(resistance_ohm)?);
    behaviour.check()?;
    let capacity = run.capacity;
    let errors = course.voltages(resistance_ohm, &behaviour).into_iter().zip(&course.points);
    let sum_v: f64 = errors.map(|(model_v, point)| (model_v - point.voltage_v).abs()).sum();
    Ok(Learned {
        cell: CellParams { chemistry: run.chemistry, capacity, resistance },
        behaviour,
        mean_error: ElectricPotential::new::<volt>(sum_v / course.points.len() as f64),
    })
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
    let course = PlainRun::of(run)?;
    let resistance_ohm = CellParams::RESISTANCE.check(resistance.value)?;
    behaviour.check()?;
    let voltages = course.voltages(resistance_ohm, behaviour);
    Ok(voltages.into_iter().map(ElectricPotential::new::<volt>).collect())
}

struct Point {
    /// Since the point before.
    interval_s: f64,
    current_a: f64,
    voltage_v: f64,
    state_of_charge: f64,
    open_circuit_v: f64,
}

/// A run as plain numbers, with the charge already counted.
struct PlainRun {
    points: Vec<Point>,
}

impl PlainRun {
    fn of(run: &Run) -> Result<Self, InputError> {
        RUN_POINTS.check(run.points.len() as f64)?;
        let capacity_c = CellParams::CAPACITY.check(run.capacity.value)?;
        let mut state_of_charge = RUN_START.check(run.start.value)?;
        let mut points: Vec<Point> = Vec::with_capacity(run.points.len());
        let mut before: Option<&RunPoint> = None;
        for point in &run.points {
            let current_a = RUN_CURRENT.check(point.current.value)?;
            let mut interval_s = 0.0;
            if let Some(before) = before {
                interval_s = RUN_INTERVAL.check(point.time.value - before.time.value)?;
                state_of_charge -= 0.5 * (current_a + before.current.value) * interval_s / capacity_c;
            }
            before = Some(point);
            let curve = run.chemistry.curve();
            points.push(Point {
                interval_s,
                current_a,
                voltage_v: RUN_VOLTAGE.check(point.voltage.value)?,
                state_of_charge,
                open_circuit_v: open_circuit::value(curve, open_circuit::place(state_of_charge)),
            });
        }
        Ok(Self { points })
    }

    fn voltages(&self, resistance_ohm: f64, behaviour: &CellBehaviour) -> Vec<f64> {
        let ohmic_ohm = resistance_ohm * behaviour.ohmic_share.value;
        let slow_ohm = resistance_ohm - ohmic_ohm;
        let (mut slow_v, mut before_a, mut before_rise) = (0.0, 0.0, 1.0);
        let mut voltages = Vec::with_capacity(self.points.len());
        for point in &self.points {
            let rise = behaviour.resistance_by_charge(point.state_of_charge);
            let kept = (-point.interval_s / behaviour.time_constant.value).exp();
            let settled_v = 0.25 * (point.current_a + before_a) * (rise + before_rise) * slow_ohm;
            slow_v = settled_v + (slow_v - settled_v) * kept;
            voltages.push(point.open_circuit_v - slow_v - point.current_a * ohmic_ohm * rise);
            (before_a, before_rise) = (point.current_a, rise);
        }
        voltages
    }
}

/// Logarithms of resistance, odds of the ohmic share, time constant, rise, scale: defaults, and the run's mean sag.
fn guess(course: &PlainRun) -> Vector5<f64> {
    let behaviour = CellBehaviour::default();
    let (mut sag, mut current) = (0.0, 0.0);
    for point in &course.points {
        sag += point.open_circuit_v - point.voltage_v;
        current += point.current_a;
    }
    let ohms = if current > 0.0 { sag / current } else { 0.0 };
    let share = behaviour.ohmic_share.value;
    Vector5::new(
        ohms.clamp(CellParams::RESISTANCE.min, CellParams::RESISTANCE.max).ln(),
        (share / (1.0 - share)).ln(),
        behaviour.time_constant.value.ln(),
        behaviour.low_charge_rise.value.ln(),
        behaviour.low_charge_scale.value.ln(),
    )
}

fn unpacked(at: &Vector5<f64>) -> (f64, CellBehaviour) {
    let behaviour = CellBehaviour {
        ohmic_share: Ratio::new::<ratio>(1.0 / (1.0 + (-at[1]).exp())),
        time_constant: Time::new::<second>(at[2].exp()),
        low_charge_rise: Ratio::new::<ratio>(at[3].exp()),
        low_charge_scale: Ratio::new::<ratio>(at[4].exp()),
        ..CellBehaviour::default()
    };
    (at[0].exp(), behaviour)
}

struct RunFit<'a> {
    course: &'a PlainRun,
    prior: Vector5<f64>,
    at: Vector5<f64>,
}

impl RunFit<'_> {
    fn errors(&self, at: &Vector5<f64>) -> DVector<f64> {
        let (resistance_ohm, behaviour) = unpacked(at);
        let voltages = self.course.voltages(resistance_ohm, &behaviour);
        let pull = PULL_V * (voltages.len() as f64).sqrt();
        let data = voltages.iter().zip(&self.course.points).map(|(model_v, point)| model_v - point.voltage_v);
        let pulls = at.iter().zip(&self.prior).map(|(value, prior)| pull * (value - prior));
        let all: Vec<f64> = data.chain(pulls).collect();
        DVector::from_vec(all)
    }
}

impl LeastSquaresProblem<f64, Dyn, U5> for RunFit<'_> {
    type ParameterStorage = Owned<f64, U5>;
    type ResidualStorage = Owned<f64, Dyn>;
    type JacobianStorage = Owned<f64, Dyn, U5>;

    fn set_params(&mut self, at: &Vector5<f64>) {
        self.at = *at;
    }

    fn params(&self) -> Vector5<f64> {
        self.at
    }

    fn residuals(&self) -> Option<DVector<f64>> {
        let errors = self.errors(&self.at);
        errors.iter().all(|error| error.is_finite()).then_some(errors)
    }

    fn jacobian(&self) -> Option<Matrix<f64, Dyn, U5, Self::JacobianStorage>> {
        const STEP: f64 = 1e-5;
        let here = self.errors(&self.at);
        let mut slopes = OMatrix::<f64, Dyn, U5>::zeros(here.len());
        for (column, mut slope) in slopes.column_iter_mut().enumerate() {
            let mut beside = self.at;
            beside[column] += STEP;
            slope.copy_from(&((self.errors(&beside) - &here) / STEP));
        }
        slopes.iter().all(|slope| slope.is_finite()).then_some(slopes)
    }
}
