//! Which rows of a bench table can be used, and when the table is refused.
//!
//! Physical tests: an ideal rotor needs T sqrt(T / 2ρA); thrust rises with throttle and with electrical power; speed and
//! thrust mean a C_T in the published range. The thresholds are common practice, no source.

use core::f64::consts::{PI, TAU};

use uom::si::force::newton;
use uom::si::power::watt;
use uom::si::ratio::ratio;

use crate::input_error::{BenchColumn, BenchFault, UnitMixUp};
use crate::propulsion::fit::note::FitNote;
use crate::propulsion::params::{BenchRow, BenchTable};
use crate::rotor::RotorParams;
use crate::units::{Force, Power, Ratio};

const LEAST_ROWS: usize = 3;
/// Below this share of the greatest thrust a load cell shows noise.
const IDLE_SHARE: f64 = 0.01;
/// Above this share of the greatest thrust figures are judged.
pub(super) const JUDGED_SHARE: f64 = 0.2;
const FALL_TOLERANCE: f64 = 0.03;
/// Ideal over electrical power: below the first no multirotor drive works, below the second few do.
const LEAST_FIGURE_OF_MERIT: f64 = 0.05;
const LOW_FIGURE_OF_MERIT: f64 = 0.2;
/// Greatest |ln| of a row's C_T over the median.
const SPEED_TOLERANCE: f64 = 0.3;

/// A usable row in SI.
#[derive(Debug, Clone, Copy)]
pub(super) struct Row {
    /// Counted from 1 in the table as given.
    pub number: usize,
    pub throttle: Option<f64>,
    pub voltage_v: f64,
    pub power_w: f64,
    pub current_a: f64,
    pub thrust_n: f64,
    pub rev_s: Option<f64>,
}

/// The rows with thrust in table order, and remarks.
pub(super) fn usable(table: &BenchTable, diameter_m: f64) -> Result<(Vec<Row>, Vec<FitNote>), BenchFault> {
    let all = checked(&table.rows)?;
    let most_n = all.iter().fold(0.0_f64, |most, row| most.max(row.thrust_n));
    let (used, idle): (Vec<Row>, Vec<Row>) =
        all.into_iter().partition(|row| row.thrust_n > IDLE_SHARE * most_n);
    let mut notes = Vec::new();
    if !idle.is_empty() {
        notes.push(FitNote::IdleRowsSkipped { rows: idle.iter().map(|row| row.number).collect() });
    }
    let pulled = idle.iter().find(|row| row.thrust_n < -IDLE_SHARE * most_n);
    if let Some(row) = pulled.or(idle.first().filter(|_| most_n <= 0.0)) {
        return Err(not_positive(row.number, BenchColumn::Thrust, row.thrust_n));
    }
    if used.len() < LEAST_ROWS {
        return Err(BenchFault::TooFewRows { rows: used.len(), least: LEAST_ROWS });
    }
    for row in &used {
        if row.voltage_v <= 0.0 {
            return Err(not_positive(row.number, BenchColumn::Voltage, row.voltage_v));
        }
        if row.current_a <= 0.0 {
            return Err(not_positive(row.number, BenchColumn::Current, row.current_a));
        }
    }
    refuse_swapped(&used)?;
    refuse_power(&used, most_n, diameter_m, table.air_density.value, &mut notes)?;
    refuse_falling(&used, &mut notes)?;
    refuse_speed(&used, most_n, diameter_m, table.air_density.value)?;
    let without: Vec<usize> = used.iter().filter(|row| row.rev_s.is_none()).map(|row| row.number).collect();
    if !without.is_empty() && without.len() < used.len() {
        notes.push(FitNote::SpeedMissing { rows: without });
    }
    Ok((used, notes))
}

fn not_positive(row: usize, column: BenchColumn, value: f64) -> BenchFault {
    BenchFault::NotPositive { row, column, value }
}

/// Every figure finite, throttle in 0..1. A speed of zero is a missing one.
fn checked(rows: &[BenchRow]) -> Result<Vec<Row>, BenchFault> {
    let finite = |number: usize, column: BenchColumn, value: f64| {
        if value.is_finite() { Ok(value) } else { Err(BenchFault::NotFinite { row: number, column }) }
    };
    let mut checked = Vec::with_capacity(rows.len());
    for (index, row) in rows.iter().enumerate() {
        let number = index + 1;
        let voltage_v = finite(number, BenchColumn::Voltage, row.voltage.value)?;
        let current_a = finite(number, BenchColumn::Current, row.current.value)?;
        let throttle = match row.throttle {
            Some(throttle) => Some(finite(number, BenchColumn::Throttle, throttle.value)?),
            None => None,
        };
        if throttle.is_some_and(|throttle| !(-0.001..=1.001).contains(&throttle)) {
            let value = Ratio::new::<ratio>(throttle.unwrap_or_default());
            return Err(BenchFault::Throttle { row: number, value });
        }
        let speed_rad_s = match row.speed {
            Some(speed) => finite(number, BenchColumn::Speed, speed.value)?,
            None => 0.0,
        };
        if speed_rad_s < 0.0 {
            return Err(not_positive(number, BenchColumn::Speed, speed_rad_s));
        }
        checked.push(Row {
            number,
            throttle,
            voltage_v,
            current_a,
            power_w: finite(number, BenchColumn::Current, voltage_v * current_a)?,
            thrust_n: finite(number, BenchColumn::Thrust, row.thrust.value)?,
            rev_s: (speed_rad_s > 0.0).then_some(speed_rad_s / TAU),
        });
    }
    Ok(checked)
}

/// A stand's voltage is nearly constant and its current is not.
fn refuse_swapped(rows: &[Row]) -> Result<(), BenchFault> {
    let span = |value: fn(&Row) -> f64| {
        let most = rows.iter().map(value).fold(0.0, f64::max);
        let least = rows.iter().map(value).fold(f64::INFINITY, f64::min);
        most / least
    };
    if span(|row| row.current_a) < 1.3 && span(|row| row.voltage_v) > 2.0 {
        return Err(BenchFault::ColumnsSwapped);
    }
    Ok(())
}

fn refuse_power(
    rows: &[Row],
    most_n: f64,
    diameter_m: f64,
    density_kg_m3: f64,
    notes: &mut Vec<FitNote>,
) -> Result<(), BenchFault> {
    let area_m2 = PI * diameter_m * diameter_m / 4.0;
    let ideal_w = |row: &Row| row.thrust_n * (row.thrust_n / (2.0 * density_kg_m3 * area_m2)).sqrt();
    let judged = rows.iter().filter(|row| row.thrust_n > JUDGED_SHARE * most_n);
    let middle = median(&judged.map(|row| ideal_w(row) / row.power_w).collect::<Vec<_>>());
    let powers = |row: &Row| (row.number, Power::new::<watt>(row.power_w), Power::new::<watt>(ideal_w(row)));
    if let Some(bad) = rows.iter().find(|row| row.power_w < ideal_w(row)) {
        let (row, power, ideal) = powers(bad);
        return Err(BenchFault::BelowIdealPower { row, power, ideal, mix_up: mix_up(middle) });
    }
    if middle < LEAST_FIGURE_OF_MERIT {
        let first = rows.iter().find(|row| row.thrust_n > JUDGED_SHARE * most_n);
        let (row, power, ideal) = first.map(powers).unwrap_or_default();
        return Err(BenchFault::AboveAllPower { row, power, ideal, mix_up: mix_up(middle) });
    }
    if middle < LOW_FIGURE_OF_MERIT {
        notes.push(FitNote::LowEfficiency { figure_of_merit: Ratio::new::<ratio>(middle) });
    }
    Ok(())
}

/// The mixed-up unit that would bring ideal over electrical power nearest to the usual half.
fn mix_up(figure_of_merit: f64) -> Option<UnitMixUp> {
    const NEWTON_IN_GRAM: f64 = 101.971_621;
    const CANDIDATES: [(f64, &str, &str); 8] = [
        (1.0 / NEWTON_IN_GRAM, "grams", "newtons"),
        (1000.0 / NEWTON_IN_GRAM, "kilograms", "newtons"),
        (4.448_222, "pounds", "newtons"),
        (NEWTON_IN_GRAM, "newtons", "grams"),
        (NEWTON_IN_GRAM / 1000.0, "newtons", "kilograms"),
        (1e-3, "grams", "kilograms"),
        (1e3, "kilograms", "grams"),
        (453.592_37, "pounds", "grams"),
    ];
    let off = |factor: f64| (figure_of_merit * factor.powf(1.5) / 0.5).ln().abs();
    CANDIDATES
        .iter()
        .min_by(|a, b| off(a.0).total_cmp(&off(b.0)))
        .filter(|best| off(best.0) < 3.0_f64.ln())
        .map(|&(_, probably, read_as)| UnitMixUp { probably, read_as })
}

fn refuse_falling(rows: &[Row], notes: &mut Vec<FitNote>) -> Result<(), BenchFault> {
    let mut order: Vec<&Row> = rows.iter().collect();
    if rows.iter().all(|row| row.throttle.is_some()) {
        order.sort_by(|a, b| a.throttle.unwrap_or_default().total_cmp(&b.throttle.unwrap_or_default()));
        for pair in order.windows(2) {
            let &[before, after] = pair else { continue };
            if after.throttle <= before.throttle || !falls(before, after) {
                continue;
            }
            // Thrust goes with voltage squared at most; less power too means that the drive got less, not that it gave less.
            let sag = (after.voltage_v / before.voltage_v).powi(2);
            let explained = after.thrust_n / before.thrust_n > sag * (1.0 - FALL_TOLERANCE);
            if !(sag < 1.0 && explained && after.power_w < before.power_w) {
                return Err(thrust_falls(before, after, "throttle"));
            }
            notes.push(FitNote::SupplySagged { row: after.number });
        }
    }
    order.sort_by(|a, b| a.power_w.total_cmp(&b.power_w));
    for pair in order.windows(2) {
        let &[before, after] = pair else { continue };
        if falls(before, after) && after.power_w > before.power_w * (1.0 + FALL_TOLERANCE) {
            return Err(thrust_falls(before, after, "electrical power"));
        }
    }
    Ok(())
}

fn falls(before: &Row, after: &Row) -> bool {
    after.thrust_n < before.thrust_n * (1.0 - FALL_TOLERANCE)
}

fn thrust_falls(before: &Row, after: &Row, over: &'static str) -> BenchFault {
    BenchFault::ThrustFalls {
        row: after.number,
        after: before.number,
        thrust: Force::new::<newton>(after.thrust_n),
        thrust_before: Force::new::<newton>(before.thrust_n),
        over,
    }
}

fn refuse_speed(rows: &[Row], most_n: f64, diameter_m: f64, density_kg_m3: f64) -> Result<(), BenchFault> {
    let coefficients: Vec<(usize, f64)> = rows
        .iter()
        .filter(|row| row.thrust_n > JUDGED_SHARE * most_n)
        .filter_map(|row| {
            let rev_s = row.rev_s?;
            Some((row.number, row.thrust_n / (density_kg_m3 * rev_s.powi(2) * diameter_m.powi(4))))
        })
        .collect();
    let (least, most) = (RotorParams::THRUST_COEFFICIENT.min, RotorParams::THRUST_COEFFICIENT.max);
    let middle = median(&coefficients.iter().map(|&(_, value)| value).collect::<Vec<_>>());
    let sound = (least..=most).contains(&middle);
    let odd = coefficients.iter().find(|(_, value)| !sound || (value / middle).ln().abs() > SPEED_TOLERANCE);
    match odd {
        Some(&(row, value)) => Err(BenchFault::Speed {
            row,
            thrust_coefficient: Ratio::new::<ratio>(value),
            others: sound.then(|| Ratio::new::<ratio>(middle)),
        }),
        None => Ok(()),
    }
}

/// The median; zero of nothing.
pub(super) fn median(values: &[f64]) -> f64 {
    let mut values = values.to_vec();
    values.sort_by(f64::total_cmp);
    let (low, high) = (values.get(values.len().saturating_sub(1) / 2), values.get(values.len() / 2));
    match (low, high) {
        (Some(low), Some(high)) => 0.5 * (low + high),
        _ => 0.0,
    }
}
