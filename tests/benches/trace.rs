//! A recording of half a million rows, read in pieces as a browser hands them on.

use core::fmt::Write as _;
use core::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use liftmargin_document::trace::TraceReader;

/// Two hours at seventy rows a second: time, voltage, current, charge, altitude, speed.
fn recording() -> String {
    let mut text = String::from("Time (ms),Voltage (V),Current (A),Used (mAh),Altitude (m),Speed (m/s)\n");
    for row in 0..500_000_u32 {
        let at = f64::from(row);
        let (volts, amps) = (50.2 - at * 2e-5, 110.0 + f64::from(row % 17));
        let _ = writeln!(
            text,
            "{},{volts:.2},{amps:.1},{:.0},{:.1},{:.2}",
            row * 14,
            at * 0.04,
            at % 90.0,
            at % 8.0
        );
    }
    text
}

fn half_a_million_rows(criterion: &mut Criterion) {
    let text = recording();
    let mut group = criterion.benchmark_group("trace");
    group.sample_size(10);
    group.bench_function("500,000 rows", |bencher| {
        bencher.iter(|| {
            let mut reader = TraceReader::new(None);
            text.as_bytes().chunks(65_536).for_each(|piece| reader.push(black_box(piece)));
            reader.finish().expect("a recording")
        });
    });
    group.finish();
}

criterion_group!(benches, half_a_million_rows);
criterion_main!(benches);
