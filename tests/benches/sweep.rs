//! The builder's sweep of thirteen places with their samples, sixty places without, and what stands beside the card.

use criterion::{Criterion, criterion_group, criterion_main};
use liftmargin_core::card::{Prepared, card};
use liftmargin_core::limits::Thresholds;
use liftmargin_document::resolve::{resolve, resolve_airframe, resolve_on};
use liftmargin_document::sweep::{PLACES, SweepAxis, sweep};
use liftmargin_document::whatif::{Change, WhatIf, apply};
use liftmargin_document::{DocumentError, open_strict};

fn sweeps(criterion: &mut Criterion) {
    let bundle = open_strict(include_str!("../../demo-data/mountain-road.json")).expect("the demo opens");
    let setup = &bundle.setups[0];
    let airframe = bundle.airframes.iter().find(|one| one.id == setup.airframe).expect("an airframe");
    let airframe = resolve_airframe(airframe).expect("resolves");
    criterion.bench_function("sweep over payload mass, 13 places", |bench| {
        bench.iter(|| sweep(&bundle, &setup.id, &airframe, SweepAxis::PayloadMass, PLACES));
    });
    let thresholds = Thresholds::default();
    let loads = (0..60).map(|place| WhatIf {
        changes: vec![Change::ExtraMass { mass_kg: 0.05 * f64::from(place), position_m: [0.0, 0.0, 0.3] }],
    });
    let loads: Vec<WhatIf> = loads.collect();
    let typical = |load: &WhatIf| {
        let loaded = apply(&bundle, &setup.id, load)?;
        let (setup, site) = resolve_on(&loaded, &setup.id, |_| Ok(airframe.airframe.clone()))?;
        card(&setup, &site, &thresholds).map_err(DocumentError::of_core)
    };
    criterion.bench_function("cards over payload mass, 60 places", |bench| {
        bench.iter(|| loads.iter().map(typical).collect::<Result<Vec<_>, _>>());
    });
    let (ready, site) = resolve(&bundle, &setup.id).expect("resolves");
    criterion.bench_function("beside the card: lost strings, warming, turn-back table, speeds", |bench| {
        bench.iter(|| Prepared::new(&ready, &site, &thresholds)?.contingencies());
    });
}

criterion_group!(benches, sweeps);
criterion_main!(benches);
