//! The builder's sweep of thirteen places with their samples, and what stands beside the card.

use criterion::{Criterion, criterion_group, criterion_main};
use liftmargin_core::card::Prepared;
use liftmargin_core::limits::Thresholds;
use liftmargin_document::open_strict;
use liftmargin_document::resolve::{resolve, resolve_airframe};
use liftmargin_document::sweep::{PLACES, SweepAxis, sweep};

fn sweeps(criterion: &mut Criterion) {
    let bundle = open_strict(include_str!("../../demo-data/mountain-road.json")).expect("the demo opens");
    let setup = &bundle.setups[0];
    let airframe = bundle.airframes.iter().find(|one| one.id == setup.airframe).expect("an airframe");
    let airframe = resolve_airframe(airframe).expect("resolves");
    criterion.bench_function("sweep over payload mass, 13 places", |bench| {
        bench.iter(|| sweep(&bundle, &setup.id, &airframe, SweepAxis::PayloadMass, PLACES));
    });
    let thresholds = Thresholds::default();
    let (ready, site) = resolve(&bundle, &setup.id).expect("resolves");
    criterion.bench_function("beside the card: lost strings, warming, turn-back table, speeds", |bench| {
        bench.iter(|| Prepared::new(&ready, &site, &thresholds)?.contingencies());
    });
}

criterion_group!(benches, sweeps);
criterion_main!(benches);
