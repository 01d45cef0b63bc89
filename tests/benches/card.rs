//! One whole card, and its cautious figures by sampling.

#[path = "../it/craft.rs"]
#[allow(dead_code)]
mod craft;
#[path = "../it/rig.rs"]
#[allow(dead_code)]
mod rig;

use criterion::{Criterion, criterion_group, criterion_main};
use liftmargin_core::card::Prepared;
use liftmargin_core::frame::LayoutKind;
use liftmargin_core::input_error::InputError;
use liftmargin_core::limits::Thresholds;
use liftmargin_core::spread::Uncertainty;

fn cards(criterion: &mut Criterion) {
    let (setup, site) = (craft::heavy(LayoutKind::CoaxialQuad, 6.0), craft::site(2200.0, 12.0, 4.0));
    let thresholds = Thresholds::default();
    criterion.bench_function("one card, coaxial eight-rotor, two strings", |bench| {
        bench.iter(|| Prepared::new(&setup, &site, &thresholds)?.card());
    });
    let uncertainty = Uncertainty::for_evidence(&setup.airframe.unit.evidence);
    criterion.bench_function("cautious figures, 512 samples", |bench| {
        bench.iter(|| {
            let sampler = Prepared::new(&setup, &site, &thresholds)?.sampler(&uncertainty, 7)?;
            Ok::<_, InputError>(sampler.and_then(|sampler| sampler.cautious(512)))
        });
    });
}

criterion_group!(benches, cards);
criterion_main!(benches);
