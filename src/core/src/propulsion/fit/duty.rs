//! Which duty a row of a bench table was measured at.
//!
//! A row at full throttle (99.5 % and more) has duty 1, whatever k_V is stated. Below that makers print stick or signal
//! positions more often than duties: the column is used only where the fit's own duties agree with it to 3 points.
//! Without a row at full throttle it bounds the duty all the same, between t and √t. Without the column the row that asks for
//! most voltage is taken for full throttle: if it was less, rotor speed and duty come out too high, the cautious side.

use uom::si::ratio::ratio;

use crate::propulsion::fit::note::FitNote;
use crate::propulsion::fit::problem::{Duty, LN_KV, Model, UNKNOWNS};
use crate::propulsion::fit::rows::{JUDGED_SHARE, Row};
use crate::units::Ratio;

const FULL_THROTTLE: f64 = 0.995;
const DUTY_TOLERANCE: f64 = 0.03;
/// One relative standard deviation of the strongest row's duty from the middle of its bounds, where it is below full throttle.
const PART_THROTTLE_WIDTH: f64 = 0.05;
/// Above this the stated k_V is remarked on.
const VELOCITY_CONSTANT_TOLERANCE: f64 = 0.04;

/// Duties and bounds as the throttle column has them.
pub(super) fn begin(model: &mut Model, notes: &mut Vec<FitNote>) {
    let is_full = |row: &Row| row.throttle.is_some_and(|throttle| throttle >= FULL_THROTTLE);
    if model.rows.iter().any(is_full) {
        model.duty = model.rows.iter().map(|row| is_full(row).then(|| Duty::known(1.0))).collect();
        return;
    }
    if let Some((strongest, most)) = greatest(model, |row| row.throttle) {
        for (row, band) in model.rows.iter().zip(&mut model.bands) {
            if row.thrust_n > JUDGED_SHARE * model.greatest_thrust_n {
                *band = row.throttle.map(|throttle| (throttle, throttle.max(0.0).sqrt()));
            }
        }
        model.duty[strongest] =
            Some(Duty { value: f64::midpoint(most, most.max(0.0).sqrt()), width: PART_THROTTLE_WIDTH });
    } else if let Some((strongest, _)) = greatest(model, |row| Some(row.thrust_n.sqrt() / row.voltage_v)) {
        model.duty[strongest] = Some(Duty::known(1.0));
        notes.push(FitNote::FullThrottleAssumed { row: model.rows[strongest].number });
    }
}

fn greatest(model: &Model, of: impl Fn(&Row) -> Option<f64>) -> Option<(usize, f64)> {
    model
        .rows
        .iter()
        .enumerate()
        .filter_map(|(index, row)| Some((index, of(row)?)))
        .max_by(|a, b| a.1.total_cmp(&b.1))
}

/// Uses the throttle column as duty where the fit agrees with it; none where there is nothing to compare.
pub(super) fn believe_throttle(model: &mut Model, solution: &[f64; UNKNOWNS]) -> Option<FitNote> {
    let apart = |row: &Row| {
        let throttle = row.throttle.filter(|&throttle| throttle > 0.0 && throttle < FULL_THROTTLE)?;
        let said = model.predict(solution, row).voltage_v / row.voltage_v;
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
            *duty = row
                .throttle
                .filter(|&throttle| throttle > 0.0)
                .map(|throttle| Duty::known(if throttle >= FULL_THROTTLE { 1.0 } else { throttle }));
        }
    }
    Some(FitNote::ThrottleIsDuty)
}

/// The row of greatest duty, where the stated k_V is not the fitted one.
pub(super) fn velocity_constant_doubt(
    model: &Model,
    solution: &[f64; UNKNOWNS],
    stated: f64,
) -> Option<FitNote> {
    let ratio_of = solution[LN_KV].exp() / stated;
    let (strongest, _) = greatest(model, |row| Some(row.thrust_n.sqrt() / row.voltage_v))?;
    ((ratio_of - 1.0).abs() > VELOCITY_CONSTANT_TOLERANCE).then(|| FitNote::VelocityConstantDoubtful {
        row: model.rows[strongest].number,
        voltage_ratio: Ratio::new::<ratio>(ratio_of),
    })
}
