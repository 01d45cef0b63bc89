//! A propulsion unit learned from its maker's bench table, by Levenberg–Marquardt.
//!
//! Equations, weights and priors: `problem`. When a table is refused: `rows`. What was decided on the way is in the notes.
//!
//! What the throttle column is taken for: `duty`. A stated k_V is known to 5 % only, so that a measured row at full throttle wins
//! over it. A fit is handed out only if the unit works over the table's whole range; it claims no thrust beyond that.

mod duty;
mod note;
mod problem;
mod rows;

use core::f64::consts::TAU;

use uom::si::angular_velocity::radian_per_second;
use uom::si::electric_current::ampere;
use uom::si::electrical_resistance::ohm;
use uom::si::force::newton;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::power::watt;
use uom::si::ratio::ratio;

pub use note::FitNote;
use problem::{EXPONENT, LN_CP, LN_CT, LN_I0, LN_KV, LN_R, Model, UNKNOWNS, Unknown};
use rows::{JUDGED_SHARE, Row};

use crate::input_error::BenchFault;
use crate::input_error::InputError;
use crate::motor::{ControllerParams, MotorParams};
use crate::propulsion::estimate::{TYPICAL_CONTROLLER_EFFICIENCY, typical};
use crate::propulsion::operate::operate;
use crate::propulsion::params::{BenchTable, Declared, Evidence, PropulsionUnit};
use crate::rotor::{Flow, REFERENCE_DENSITY_KG_M3, RotorParams};
use crate::units::{
    AngularVelocity, ElectricCurrent, ElectricalResistance, Force, MassDensity, Power, Ratio,
    VelocityConstant,
};

/// One standard deviation of a stated k_V: windings of one type differ, and makers round (common practice, no source).
const STATED_VELOCITY_CONSTANT_WIDTH: f64 = 0.05;
/// C_P goes with speed to this power: shaft power of measured propellers goes with thrust to the power 1.40, quartiles 1.38 to
/// 1.44 (public propeller data, aggregated). Let free, it takes the mean error of current at rows held out of six open bench
/// files from 3.9 to 2.4 %.
const USUAL_EXPONENT: f64 = -0.2;
const EXPONENT_WIDTH: f64 = 0.1;
/// Below this the exponent is not worth a remark.
const REMARKABLE_EXPONENT: f64 = 0.05;
const GREATEST_MEAN_ERROR: f64 = 0.2;
/// Duty that a fitted unit may need at a row of the table: the scatter of a stand above 1.
const GREATEST_DUTY: f64 = 1.1;

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
    unknowns[EXPONENT] = unknown(USUAL_EXPONENT, EXPONENT_WIDTH, true);
    // Windings run warm (+20 % and more), makers measure cold: a stated R binds no tighter than that.
    unknowns[LN_R] = match declared.resistance {
        Some(resistance) => unknown(resistance.value.ln(), 0.15, true),
        None => unknown(typical_r.ln(), 0.7, true),
    };
    unknowns[LN_I0] = match declared.no_load_current {
        Some(current) if current.value > 0.0 => unknown(current.value.ln(), 0.25, true),
        _ => unknown(typical_i0.ln(), 0.5, true),
    };
    let kv_width = if declared.velocity_constant.is_some() { STATED_VELOCITY_CONSTANT_WIDTH } else { 1.0 };
    unknowns[LN_KV] = unknown(kv.ln(), kv_width, true);
    Ok(Model {
        duty: vec![None; rows.len()],
        bands: vec![None; rows.len()],
        usual_power_at_thrust: (typical_cp / typical_ct.powf(1.5)).ln(),
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
fn decide(
    model: &mut Model,
    declared: &Declared,
    notes: &mut Vec<FitNote>,
) -> Result<[f64; UNKNOWNS], BenchFault> {
    let with_speed = model.rows.iter().any(|row| row.rev_s.is_some());
    duty::begin(model, notes);
    let mut solution = model.solve()?;
    if let Some(note) = duty::believe_throttle(model, &solution) {
        if note == FitNote::ThrottleIsDuty {
            solution = model.solve()?;
        }
        notes.push(note);
    }
    let exponent = solution[EXPONENT];
    if exponent.abs() > REMARKABLE_EXPONENT {
        notes.push(FitNote::PowerCoefficientVaries { exponent: Ratio::new::<ratio>(exponent) });
    }
    match declared.velocity_constant {
        Some(stated) => notes.extend(duty::velocity_constant_doubt(model, &solution, stated.rad_s_v())),
        None => notes.push(FitNote::VelocityConstantFitted),
    }
    if !with_speed && declared.velocity_constant.is_none() {
        notes.push(FitNote::SpeedNotIdentified);
    }
    let voltages = model.duty.iter().flatten().count();
    let is_speed_known = with_speed && declared.velocity_constant.is_some();
    if voltages < 2 && !is_speed_known && declared.resistance.is_none() {
        notes.push(FitNote::ResistanceNotIdentified);
    }
    notes.push(FitNote::ControllerLossHeld { efficiency: Ratio::new::<ratio>(model.efficiency) });
    Ok(solution)
}

fn report(
    model: &Model,
    x: &[f64; UNKNOWNS],
    declared: &Declared,
    notes: Vec<FitNote>,
) -> Result<Fit, InputError> {
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
    let unit = unit(model, x, declared, mean_power_error)?;
    check_operates(&unit, model)?;
    Ok(Fit { unit, residuals, mean_power_error, notes })
}

/// The unit that the unknowns mean.
fn unit(
    model: &Model,
    x: &[f64; UNKNOWNS],
    declared: &Declared,
    mean_power_error: Ratio,
) -> Result<PropulsionUnit, InputError> {
    let checked = |range: &'static crate::input_range::InputRange, value: f64| range.check(value);
    let ct = checked(&RotorParams::THRUST_COEFFICIENT, x[LN_CT].exp())?;
    let reference_rev_s =
        (model.reference_thrust_n() / (ct * model.density_kg_m3 * model.diameter_m.powi(4))).sqrt();
    Ok(PropulsionUnit {
        rotor: RotorParams {
            diameter: declared.diameter,
            thrust_coefficient: Ratio::new::<ratio>(ct),
            power_coefficient: Ratio::new::<ratio>(checked(&RotorParams::POWER_COEFFICIENT, x[LN_CP].exp())?),
            reference_speed: AngularVelocity::new::<radian_per_second>(checked(
                &RotorParams::REFERENCE_SPEED,
                TAU * reference_rev_s * model.density_kg_m3 / REFERENCE_DENSITY_KG_M3,
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
            greatest_thrust: Force::new::<newton>(model.greatest_thrust_n),
            other_rotor: None,
        },
    })
}

/// Every row's thrust at that row's voltage, or which row is out of reach and why.
fn check_operates(unit: &PropulsionUnit, model: &Model) -> Result<(), BenchFault> {
    let density = MassDensity::new::<kilogram_per_cubic_meter>(model.density_kg_m3);
    for row in &model.rows {
        let point = operate(unit, density, Force::new::<newton>(row.thrust_n), &Flow::still());
        let duty = point.ok().map(|point| point.motor_voltage.value / row.voltage_v);
        if duty.is_none_or(|duty| duty > GREATEST_DUTY) {
            return Err(BenchFault::OutOfReach { row: row.number, duty: duty.map(Ratio::new::<ratio>) });
        }
    }
    Ok(())
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
