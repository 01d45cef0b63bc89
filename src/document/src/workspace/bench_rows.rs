//! Rows of an opened bench table as the file keeps them.

use liftmargin_core::propulsion::BenchRow;
use uom::si::angular_velocity::revolution_per_minute;
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::force::newton;
use uom::si::ratio::ratio;

use crate::model;

/// Rows of an opened bench table as the file keeps them; what is not finite is missing.
pub fn bench_rows(rows: &[BenchRow]) -> Vec<model::BenchRow> {
    let finite = |value: f64| Some(value).filter(|value| value.is_finite());
    let kept = |row: &BenchRow| model::BenchRow {
        throttle: row.throttle.and_then(|throttle| finite(throttle.get::<ratio>())),
        voltage_v: finite(row.voltage.get::<volt>()),
        current_a: finite(row.current.get::<ampere>()),
        thrust_n: finite(row.thrust.get::<newton>()),
        speed_rpm: row.speed.and_then(|speed| finite(speed.get::<revolution_per_minute>())),
        ..model::BenchRow::default()
    };
    rows.iter().map(kept).collect()
}
