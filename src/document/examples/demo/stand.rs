//! A bench table from stated coefficients, with the scatter of a real stand.
//!
//! Formula: the static rotor T = C_T ρ n² D⁴, Q = C_P ρ n² D⁵ / 2π on the motor ω = k_V (d V − i R),
//! Q = (i − I_0) / k_V, fed by a controller that passes on 97 % at duty d. The scatter is seeded: same table each time.

use core::f64::consts::TAU;

use liftmargin_document::model::{Bench, BenchRow};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg32;

const CONTROLLER_EFFICIENCY: f64 = 0.97;
const GRAM_FORCE_N: f64 = 0.009_806_65;

/// The truth behind a table.
pub struct Stand {
    pub name: &'static str,
    pub diameter_m: f64,
    pub thrust_coefficient: f64,
    pub power_coefficient: f64,
    pub velocity_constant_rpm_v: f64,
    pub resistance_ohm: f64,
    pub no_load_current_a: f64,
    pub air_density_kg_m3: f64,
    /// Supply of the stand at no load.
    pub voltage_v: f64,
    /// Its resistance.
    pub supply_resistance_ohm: f64,
    pub seed: u64,
}

/// A table from 30 % to full throttle in steps of 10 %.
pub fn bench(stand: &Stand) -> Bench {
    let mut scatter = Pcg32::seed_from_u64(stand.seed);
    let rows = (3..=10).map(|step| row(stand, f64::from(step) / 10.0, &mut scatter)).collect();
    Bench {
        name: stand.name.to_owned(),
        air_density_kg_m3: stand.air_density_kg_m3,
        rows,
        ..Bench::default()
    }
}

fn row(stand: &Stand, duty: f64, scatter: &mut Pcg32) -> BenchRow {
    let (speed_rad_s, motor_a) = balance(stand, duty);
    let bus_a = duty * motor_a / CONTROLLER_EFFICIENCY;
    let rev_s = speed_rad_s / TAU;
    let thrust_n =
        stand.thrust_coefficient * stand.air_density_kg_m3 * rev_s.powi(2) * stand.diameter_m.powi(4);
    // Half a per cent on thrust, three quarters on current, a fifth on speed: what a careful stand shows.
    let mut measured = |value: f64, share: f64| value * (1.0 + share * scatter.random_range(-1.7..1.7));
    let grams = (measured(thrust_n, 0.005) / GRAM_FORCE_N).round();
    BenchRow {
        throttle: Some(duty),
        voltage_v: Some(to(stand.voltage_v - stand.supply_resistance_ohm * bus_a, 0.01)),
        current_a: Some(to(measured(bus_a, 0.007_5), 0.01)),
        thrust_n: Some(to(grams * GRAM_FORCE_N, 1e-6)),
        speed_rpm: Some(to(measured(rev_s * 60.0, 0.002), 1.0)),
        ..BenchRow::default()
    }
}

/// Speed and motor current at a duty: the current that the motor asks falls with speed, that of the rotor rises.
fn balance(stand: &Stand, duty: f64) -> (f64, f64) {
    let velocity_constant = stand.velocity_constant_rpm_v * TAU / 60.0;
    let current_a = |speed_rad_s: f64| {
        let rev_s = speed_rad_s / TAU;
        let torque_n_m =
            stand.power_coefficient * stand.air_density_kg_m3 * rev_s.powi(2) * stand.diameter_m.powi(5)
                / TAU;
        stand.no_load_current_a + torque_n_m * velocity_constant
    };
    let mut ends = (0.0, velocity_constant * stand.voltage_v);
    for _ in 0..60 {
        let speed = 0.5 * (ends.0 + ends.1);
        let motor_a = current_a(speed);
        let bus_v = stand.voltage_v - stand.supply_resistance_ohm * duty * motor_a / CONTROLLER_EFFICIENCY;
        if speed < velocity_constant * (duty * bus_v - stand.resistance_ohm * motor_a) {
            ends.0 = speed;
        } else {
            ends.1 = speed;
        }
    }
    (ends.0, current_a(ends.0))
}

fn to(value: f64, step: f64) -> f64 {
    // Through the inverse, so that 0.07 is written 0.07.
    (value / step).round() / (1.0 / step).round()
}

/// The table as a maker would hand it out: per cent, volts, amperes, grams, revolutions per minute.
pub fn csv(bench: &Bench) -> String {
    let line = |row: &BenchRow| {
        let percent = row.throttle.unwrap_or_default() * 100.0;
        let grams = (row.thrust_n.unwrap_or_default() / GRAM_FORCE_N).round();
        let speed = row.speed_rpm.unwrap_or_default();
        let (volts, amperes) = (row.voltage_v.unwrap_or_default(), row.current_a.unwrap_or_default());
        format!("{percent:.0},{volts:.2},{amperes:.2},{grams},{speed}")
    };
    let header = "Throttle (%),Voltage (V),Current (A),Thrust (g),Speed (rpm)".to_owned();
    let lines: Vec<String> = core::iter::once(header).chain(bench.rows.iter().map(line)).collect();
    lines.join("\n") + "\n"
}
