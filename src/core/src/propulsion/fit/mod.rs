//! A propulsion unit learned from its maker's bench table, by Levenberg–Marquardt.
//!
//! Equations, weights and priors: `problem`. When a table is refused: `rows`. What was decided on the way is in the notes.
//!
//! The throttle column: makers print stick or signal positions more often than duties. Only full throttle (99.5 % and
//! more) is taken as the duty 1; the whole column is used only if the fit's own duties agree with it to 3 points.
//! Without speed the table tells only the figure of merit; full throttle and k_V then give the speed.

mod note;
mod problem;
mod rows;

use core::f64::consts::TAU;

use uom::si::angular_velocity::radian_per_second;
use uom::si::electric_current::ampere;
use uom::si::electrical_resistance::ohm;
use uom::si::power::watt;
use uom::si::ratio::ratio;

pub use note::FitNote;
use problem::{EXPONENT, LN_CP, LN_CT, LN_I0, LN_KV, LN_R, Model, Solution, UNKNOWNS, Unknown};
use rows::{JUDGED_SHARE, Row};

use crate::input_error::BenchFault;
use crate::input_error::InputError;
use crate::motor::{ControllerParams, MotorParams};
use crate::propulsion::estimate::{TYPICAL_CONTROLLER_EFFICIENCY, typical};
use crate::propulsion::params::{BenchTable, Declared, Evidence, PropulsionUnit};
use crate::rotor::RotorParams;
use crate::units::{AngularVelocity, ElectricCurrent, ElectricalResistance, Power, Ratio, VelocityConstant};

const FULL_THROTTLE: f64 = 0.995;
const DUTY_TOLERANCE: f64 = 0.03;
/// Greatest error of the full-throttle voltage that the stated k_V may leave.
const VOLTAGE_TOLERANCE: f64 = 0.04;
/// Rows needed to ask for an exponent of C_P, the gain in −2 ln likelihood it must bring, and the scatter below which none is asked.
const EXPONENT_ROWS: usize = 6;
const EXPONENT_GAIN: f64 = 4.0;
const EXPONENT_SCATTER: f64 = 0.05;
const GREATEST_MEAN_ERROR: f64 = 0.2;

/// A unit fitted to a bench table.
#[derive(Debug, Clone, PartialEq)]
pub struct Fit {
    /// The unit.
    pub unit: PropulsionUnit,
    /// Every row used, in table order.
    pub residuals: Vec<RowResidual>,
    /// Mean absolute error of electrical power on rows above a fifth of the greatest thrust.
    pub mean_power_error: Ratio,
    /// What the reader should know.
    pub notes: Vec<FitNote>,
}

/// The fit beside one row.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RowResidual {
    /// The row, counted from 1 in the table as given.
    pub row: usize,
    /// Electrical power in the table.
    pub power: Power,
    /// Electrical power of the fitted unit at the row's thrust.
    pub fitted_power: Power,
    /// Fitted over measured power, less 1.
    pub power_error: Ratio,
    /// Fitted thrust at the measured speed over measured thrust, less 1.
    pub thrust_error: Option<Ratio>,
}

/// Fits a unit to a table: see the module.
///
/// # Errors
/// `InputError::Bench` for a table that cannot be used, naming the row; `InputError::OutOfRange` for a declared figure, the
/// air density or a fitted coefficient outside its bound.
pub fn fit(table: &BenchTable, declared: &Declared) -> Result<Fit, InputError> {
    let diameter_m = RotorParams::DIAMETER.check(declared.diameter.value)?;
    RotorParams::AIR_DENSITY.check(table.air_density.value)?;
    check_declared(declared)?;
    let (rows, mut notes) = rows::usable(table, diameter_m)?;
    let mut model = start(rows, diameter_m, table.air_density.value, declared)?;
    let solution = decide(&mut model, declared, &mut notes)?;
    report(&model, &solution, declared, notes)
}

fn check_declared(declared: &Declared) -> Result<(), InputError> {
    MotorParams::CURRENT_LIMIT.check(declared.motor_current_limit.value)?;
    ControllerParams::CURRENT_LIMIT.check(declared.controller_current_limit.value)?;
    if let Some(constant) = declared.velocity_constant {
        MotorParams::VELOCITY_CONSTANT.check(constant.rad_s_v())?;
    }
    if let Some(resistance) = declared.resistance {
        MotorParams::RESISTANCE.check(resistance.value)?;
    }
    if let Some(current) = declared.no_load_current {
        MotorParams::NO_LOAD_CURRENT.check(current.value)?;
    }
    Ok(())
}

/// The model with its first values: typical ones, or what was declared.
fn start(
    rows: Vec<Row>,
    diameter_m: f64,
    density_kg_m3: f64,
    declared: &Declared,
) -> Result<Model, InputError> {
    let usual = typical(declared)?;
    let (typical_ct, typical_cp) = (usual.thrust_coefficient, usual.power_coefficient);
    let greatest_thrust_n = rows.iter().fold(0.0, |most: f64, row| most.max(row.thrust_n));
    let top = rows.iter().copied().fold(None, |top: Option<Row>, row| match top {
        Some(top) if top.power_w >= row.power_w => Some(top),
        _ => Some(row),
    });
    let Some(top) = top else { return Err(BenchFault::TooFewRows { rows: 0, least: 3 }.into()) };
    let of_rows: Vec<f64> = rows
        .iter()
        .filter(|row| row.thrust_n > JUDGED_SHARE * greatest_thrust_n)
        .filter_map(|row| Some(row.thrust_n / (density_kg_m3 * row.rev_s?.powi(2) * diameter_m.powi(4))))
        .collect();
    let measured_ct = rows::median(&of_rows);
    let with_speed = measured_ct > 0.0;
    let ct = if with_speed { measured_ct } else { typical_ct };
    let top_rev_s = (top.thrust_n / (ct * density_kg_m3 * diameter_m.powi(4))).sqrt();
    // Nine tenths of the bus voltage as back-EMF at full power, and 85 % motor efficiency: starting points only.
    let kv =
        declared.velocity_constant.map_or(TAU * top_rev_s / (0.9 * top.voltage_v), VelocityConstant::rad_s_v);
    let cp = 0.8 * top.power_w / (density_kg_m3 * top_rev_s.powi(3) * diameter_m.powi(5));
    let typical_r = 0.08 * top.voltage_v / top.current_a;
    let typical_i0 = 0.025 * top.current_a;
    let unknown = |mean: f64, width: f64, free: bool| Unknown { mean, width, free };
    let mut unknowns = [Unknown::default(); UNKNOWNS];
    unknowns[LN_CT] = unknown(ct.ln(), if with_speed { 1.0 } else { usual.thrust_spread }, true);
    unknowns[LN_CP] = unknown(if with_speed { cp.ln() } else { typical_cp.ln() }, 1.0, true);
    unknowns[EXPONENT] = unknown(0.0, 0.15, false);
    // Windings run warm (+20 % and more), makers measure cold: a stated R binds no tighter than that.
    unknowns[LN_R] = match declared.resistance {
        Some(resistance) => unknown(resistance.value.ln(), 0.15, true),
        None => unknown(typical_r.ln(), 0.7, true),
    };
    unknowns[LN_I0] = match declared.no_load_current {
        Some(current) if current.value > 0.0 => unknown(current.value.ln(), 0.25, true),
        _ => unknown(typical_i0.ln(), 0.5, true),
    };
    unknowns[LN_KV] = unknown(kv.ln(), 1.0, declared.velocity_constant.is_none());
    Ok(Model {
        duty: rows.iter().map(|row| row.throttle.filter(|&t| t >= FULL_THROTTLE).map(|_| 1.0)).collect(),
        rows,
        diameter_m,
        density_kg_m3,
        efficiency: TYPICAL_CONTROLLER_EFFICIENCY,
        unknowns,
        greatest_thrust_n,
        greatest_power_w: top.power_w,
    })
}

/// Solves the model, deciding on the way which duties to believe and whether C_P varies.
fn decide(model: &mut Model, declared: &Declared, notes: &mut Vec<FitNote>) -> Result<Solution, BenchFault> {
    let with_speed = model.rows.iter().any(|row| row.rev_s.is_some());
    let stated = declared.velocity_constant.is_some();
    assume_full_throttle(model, with_speed && stated, notes);
    let mut solution = model.solve()?;
    if stated
        && with_speed
        && let Some(note) = velocity_constant_doubt(model, &solution)
    {
        notes.push(note);
        model.duty.fill(None);
        solution = model.solve()?;
    }
    if let Some(note) = believe_throttle(model, &solution) {
        if note == FitNote::ThrottleIsDuty {
            solution = model.solve()?;
        }
        notes.push(note);
    }
    solution = ask_for_exponent(model, solution, notes)?;
    if !stated {
        notes.push(FitNote::VelocityConstantFitted);
    }
    if !with_speed && (!stated || model.duty.iter().all(Option::is_none)) {
        notes.push(FitNote::SpeedNotIdentified);
    }
    let voltages = model.duty.iter().flatten().count();
    let told = voltages > 1 || (voltages == 1 && with_speed && stated) || declared.resistance.is_some();
    if !told {
        notes.push(FitNote::ResistanceNotIdentified);
    }
    notes.push(FitNote::ControllerLossHeld { efficiency: Ratio::new::<ratio>(model.efficiency) });
    Ok(solution)
}

/// Without a row at full throttle, the row of greatest power stands for it where nothing else gives the speed's scale.
/// If it was less than full throttle, rotor speed and duty come out too high: the cautious side.
fn assume_full_throttle(model: &mut Model, scale_known: bool, notes: &mut Vec<FitNote>) {
    if scale_known || model.duty.iter().any(Option::is_some) {
        return;
    }
    let greatest = model.greatest_power_w;
    for (row, duty) in model.rows.iter().zip(&mut model.duty) {
        if row.power_w >= greatest {
            *duty = Some(1.0);
            notes.push(FitNote::FullThrottleAssumed { row: row.number });
            return;
        }
    }
}

fn velocity_constant_doubt(model: &Model, solution: &Solution) -> Option<FitNote> {
    model.rows.iter().zip(&model.duty).find_map(|(row, duty)| {
        let said = model.predict(&solution.values, row).voltage_v / ((*duty)? * row.voltage_v);
        ((said - 1.0).abs() > VOLTAGE_TOLERANCE).then(|| FitNote::VelocityConstantDoubtful {
            row: row.number,
            voltage_ratio: Ratio::new::<ratio>(said),
        })
    })
}

/// Uses the throttle column as duty where the fit agrees with it; none where there is nothing to compare.
fn believe_throttle(model: &mut Model, solution: &Solution) -> Option<FitNote> {
    let apart = |row: &Row| {
        let throttle = row.throttle.filter(|&throttle| throttle > 0.0 && throttle < FULL_THROTTLE)?;
        let said = model.predict(&solution.values, row).voltage_v / row.voltage_v;
        (row.thrust_n > JUDGED_SHARE * model.greatest_thrust_n).then_some((said - throttle).abs())
    };
    let compared: Vec<f64> = model.rows.iter().filter_map(apart).collect();
    if compared.len() < 2 {
        return None;
    }
    let difference = compared.into_iter().fold(0.0, f64::max);
    if difference > DUTY_TOLERANCE {
        return Some(FitNote::ThrottleIsNotDuty { difference: Ratio::new::<ratio>(difference) });
    }
    for (row, duty) in model.rows.iter().zip(&mut model.duty) {
        if row.thrust_n > JUDGED_SHARE * model.greatest_thrust_n {
            *duty = row.throttle.map(|throttle| if throttle >= FULL_THROTTLE { 1.0 } else { throttle });
        }
    }
    Some(FitNote::ThrottleIsDuty)
}

/// Lets C_P vary with speed where that explains the table clearly better (Bayes information criterion).
fn ask_for_exponent(
    model: &mut Model,
    constant: Solution,
    notes: &mut Vec<FitNote>,
) -> Result<Solution, BenchFault> {
    if model.rows.len() < EXPONENT_ROWS || constant.scatter <= EXPONENT_SCATTER {
        return Ok(constant);
    }
    model.unknowns[EXPONENT].free = true;
    let varying = model.solve()?;
    let exponent = varying.values[EXPONENT];
    let range = &RotorParams::POWER_SPEED_EXPONENT;
    // Without the exponent the table may be matched by an unlikely I_0 or R: the priors' say counts in the comparison.
    let gain = model.rows.len() as f64 * (constant.chi_squared / varying.chi_squared).ln()
        + constant.prior_squared
        - varying.prior_squared;
    if gain < EXPONENT_GAIN || !(range.min..=range.max).contains(&exponent) {
        model.unknowns[EXPONENT].free = false;
        return Ok(constant);
    }
    notes.push(FitNote::PowerCoefficientVaries { exponent: Ratio::new::<ratio>(exponent) });
    Ok(varying)
}

fn report(
    model: &Model,
    solution: &Solution,
    declared: &Declared,
    notes: Vec<FitNote>,
) -> Result<Fit, InputError> {
    let x = &solution.values;
    let checked = |range: &'static crate::input_range::InputRange, value: f64| range.check(value);
    let ct = checked(&RotorParams::THRUST_COEFFICIENT, x[LN_CT].exp())?;
    let reference_rev_s =
        (model.reference_thrust_n() / (ct * model.density_kg_m3 * model.diameter_m.powi(4))).sqrt();
    let residuals: Vec<RowResidual> = model.rows.iter().map(|row| row_residual(model, x, row)).collect();
    let judged: Vec<&RowResidual> = model
        .rows
        .iter()
        .zip(&residuals)
        .filter(|(row, _)| row.thrust_n > JUDGED_SHARE * model.greatest_thrust_n)
        .map(|(_, residual)| residual)
        .collect();
    let mean = judged.iter().map(|r| r.power_error.value.abs()).sum::<f64>() / judged.len().max(1) as f64;
    let mean_power_error = Ratio::new::<ratio>(mean);
    let worst = judged.iter().max_by(|a, b| a.power_error.value.abs().total_cmp(&b.power_error.value.abs()));
    if let Some(worst) = worst.filter(|_| mean.is_nan() || mean > GREATEST_MEAN_ERROR) {
        return Err(BenchFault::PoorFit { row: worst.row, mean_power_error }.into());
    }
    let unit = PropulsionUnit {
        rotor: RotorParams {
            diameter: declared.diameter,
            thrust_coefficient: Ratio::new::<ratio>(ct),
            power_coefficient: Ratio::new::<ratio>(checked(&RotorParams::POWER_COEFFICIENT, x[LN_CP].exp())?),
            reference_speed: AngularVelocity::new::<radian_per_second>(checked(
                &RotorParams::REFERENCE_SPEED,
                TAU * reference_rev_s,
            )?),
            power_speed_exponent: Ratio::new::<ratio>(x[EXPONENT]),
            pitch_inflow: declared.pitch_inflow(Ratio::new::<ratio>(ct)),
        },
        motor: MotorParams {
            velocity_constant: VelocityConstant::from_rad_s_v(checked(
                &MotorParams::VELOCITY_CONSTANT,
                x[LN_KV].exp(),
            )?),
            resistance: ElectricalResistance::new::<ohm>(checked(&MotorParams::RESISTANCE, x[LN_R].exp())?),
            no_load_current: ElectricCurrent::new::<ampere>(checked(
                &MotorParams::NO_LOAD_CURRENT,
                x[LN_I0].exp(),
            )?),
            current_limit: declared.motor_current_limit,
        },
        controller: ControllerParams {
            efficiency: Ratio::new::<ratio>(model.efficiency),
            current_limit: declared.controller_current_limit,
        },
        evidence: Evidence::Bench {
            rows: model.rows.len(),
            mean_power_error,
            with_speed: model.rows.iter().any(|row| row.rev_s.is_some()),
        },
    };
    Ok(Fit { unit, residuals, mean_power_error, notes })
}

fn row_residual(model: &Model, x: &[f64; UNKNOWNS], row: &Row) -> RowResidual {
    let said = model.predict(x, row);
    RowResidual {
        row: row.number,
        power: Power::new::<watt>(row.power_w),
        fitted_power: Power::new::<watt>(said.power_w),
        power_error: Ratio::new::<ratio>(said.power_w / row.power_w - 1.0),
        thrust_error: said.thrust_n.map(|thrust_n| Ratio::new::<ratio>(thrust_n / row.thrust_n - 1.0)),
    }
}
