//! What is learned of an airframe: the fit of its bench table, or an estimate without one.

use liftmargin_core::aircraft::{PowerCorrection, usual_lean_area, usual_power_area};
use liftmargin_core::card::Airframe;
use liftmargin_core::input_error::InputError;
use liftmargin_core::input_range::InputRange;
use liftmargin_core::propulsion::{
    BenchFault, Declared, Fit, UnitFault, estimate, fit, is_another_rotor, on_another_rotor,
};
use liftmargin_core::units::{Length, Ratio};
use uom::si::length::meter;
use uom::si::ratio::ratio;

use super::airframe::{AirframeParts, airframe_parts};
use super::layout::places;
use crate::error::DocumentError;
use crate::model;
use crate::quantity::refused;

/// An airframe as core's parameters, with the fit it rests on.
#[derive(Debug, Clone, PartialEq)]
pub struct ResolvedAirframe {
    /// The airframe. Without a stated drag area it carries the usual one of the bare frame; `resolve_setup` puts
    /// that of the all-up mass in its place.
    pub airframe: Airframe,
    /// The fit of the bench table, with the rotor it was measured with; none without a table.
    pub fit: Option<Fit>,
}

/// An airframe as core's parameters. The fit takes some milliseconds: keep the result as long as the airframe stays.
///
/// # Errors
/// `Refused`, `UnknownKey`, and `Missing` for a k_V that the estimate needs; paths below the airframe.
pub fn resolve_airframe(airframe: &model::Airframe) -> Result<ResolvedAirframe, DocumentError> {
    let parts = airframe_parts(airframe)?;
    let declared = parts.declared;
    let on_stand = Declared { diameter: parts.measured_rotor.unwrap_or(declared.diameter), ..declared };
    let fit = parts.bench.as_ref().map(|table| fit(table, &on_stand)).transpose().map_err(bench_refused)?;
    let airframe = with_fit(airframe, parts, fit.as_ref())?;
    Ok(ResolvedAirframe { airframe, fit })
}

/// The same airframe on another rotor: of its bench table stays what was learned, as the rotor it was measured with stays.
///
/// # Errors
/// As `resolve_airframe`.
pub(crate) fn on_rotor(airframe: &model::Airframe, fit: Option<&Fit>) -> Result<Airframe, DocumentError> {
    with_fit(airframe, airframe_parts(airframe)?, fit)
}

fn with_fit(
    airframe: &model::Airframe,
    parts: AirframeParts,
    fit: Option<&Fit>,
) -> Result<Airframe, DocumentError> {
    let AirframeParts { layout, declared, mass_limit, drag_area, tilt_limit, frame, .. } = parts;
    let unit = match fit {
        Some(fit) => on_another_rotor(&fit.unit, &declared).map_err(unit_refused)?,
        None => estimate(&declared).map_err(unit_refused)?,
    };
    let layout = places(layout).map_err(|fault| fault.under("layout"))?;
    let lean_area = drag_area.unwrap_or_else(|| usual_lean_area(frame.mass));
    let drag_area = drag_area.unwrap_or_else(|| usual_power_area(frame.mass));
    Ok(Airframe {
        layout,
        unit,
        mass_limit,
        drag_area,
        lean_area,
        tilt_limit,
        power_correction: power_correction(airframe)?,
    })
}

/// What the log has taught, while it is switched on.
fn power_correction(airframe: &model::Airframe) -> Result<Option<PowerCorrection>, DocumentError> {
    let Some(learned) = airframe.correction.as_ref().filter(|learned| learned.on) else { return Ok(None) };
    let check = |range: &'static InputRange, value: f64| {
        range.check(value).map_err(|refusal| refused("correction", refusal))
    };
    check(&PowerCorrection::FACTOR, learned.factor)?;
    check(&PowerCorrection::FACTOR, learned.assured_factor)?;
    let spread = Ratio::new::<ratio>(check(&PowerCorrection::SPREAD, learned.spread)?);
    Ok(Some(PowerCorrection { factor: Ratio::new::<ratio>(learned.assured_factor), spread }))
}

fn bench_refused(refusal: InputError) -> DocumentError {
    match &refusal {
        InputError::Bench(fault) => {
            let row = row(fault).and_then(|row| row.checked_sub(1));
            let path = row.map_or_else(String::new, |row| format!(".rows[{row}]"));
            refused(&format!("propulsion.bench{path}"), refusal)
        }
        _ => unit_refused(refusal),
    }
}

fn unit_refused(refusal: InputError) -> DocumentError {
    match &refusal {
        InputError::Unit(UnitFault::Missing { .. }) => DocumentError::Missing {
            path: "propulsion.velocity_constant_rpm_v".to_owned(),
            allowed: "k_V, or a bench table".to_owned(),
        },
        _ => refused("propulsion", refusal),
    }
}

/// The row at fault, counted from 1.
fn row(fault: &BenchFault) -> Option<usize> {
    match fault {
        BenchFault::NotFinite { row, .. }
        | BenchFault::NotPositive { row, .. }
        | BenchFault::Throttle { row, .. }
        | BenchFault::ThrustFalls { row, .. }
        | BenchFault::BelowIdealPower { row, .. }
        | BenchFault::AboveAllPower { row, .. }
        | BenchFault::OutOfReach { row, .. }
        | BenchFault::Speed { row, .. } => Some(*row),
        BenchFault::TooFewRows { .. }
        | BenchFault::ColumnsSwapped
        | BenchFault::PoorFit { .. }
        | BenchFault::NotConverged => None,
    }
}

/// Whether a table measured with one rotor tells of another only by similarity; diameters in metres.
pub fn is_other_rotor(measured_m: f64, flown_m: f64) -> bool {
    is_another_rotor(Length::new::<meter>(measured_m), Length::new::<meter>(flown_m))
}
