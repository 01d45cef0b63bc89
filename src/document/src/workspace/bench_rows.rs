//! Rows of an opened bench table as the file keeps them.

use liftmargin_core::propulsion::BenchRow;
use uom::si::angular_velocity::revolution_per_minute;
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::force::newton;
use uom::si::ratio::ratio;

use crate::fields::without_noise;
use crate::schema;

/// Rows of an opened bench table as the file keeps them.
pub fn bench_rows(rows: &[BenchRow]) -> Vec<schema::BenchRow> {
    let kept = |row: &BenchRow| schema::BenchRow {
        throttle: row.throttle.map(|throttle| without_noise(throttle.get::<ratio>())),
        voltage_v: without_noise(row.voltage.get::<volt>()),
        current_a: without_noise(row.current.get::<ampere>()),
        thrust_n: without_noise(row.thrust.get::<newton>()),
        speed_rpm: row.speed.map(|speed| without_noise(speed.get::<revolution_per_minute>())),
    };
    rows.iter().map(kept).collect()
}
