//! One flight of two strings: in full, and in brief as sampling uses it.

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use liftmargin_core::flight::{FlightSettings, LossMoment, fly, fly_brief, string_lost};

#[path = "../it/rig.rs"]
mod rig;

fn flights(criterion: &mut Criterion) {
    let (alike, demand, policy) = (rig::two_strings(), rig::close_by(4200.0), rig::reserve(0.2));
    let unlike = rig::supply(&[rig::pack(12.0, 1.5), rig::pack(11.0, 3.0)]);
    let tired = rig::supply(&[rig::pack(12.0, 6.0), rig::pack(12.0, 6.0)]);
    let settings = FlightSettings::default();
    for (name, supply) in [("alike", &alike), ("unlike", &unlike), ("floor_rules", &tired)] {
        criterion.bench_function(&format!("fly_two_strings_{name}"), |bencher| {
            bencher.iter(|| fly(black_box(supply), &demand, &policy));
        });
        criterion.bench_function(&format!("fly_brief_two_strings_{name}"), |bencher| {
            bencher.iter(|| fly_brief(black_box(supply), &demand, &policy, &settings));
        });
    }
    criterion.bench_function("string_lost_at_turn_back", |bencher| {
        bencher.iter(|| string_lost(black_box(&alike), &demand, &policy, &settings, 0, LossMoment::TurnBack));
    });
}

criterion_group!(benches, flights);
criterion_main!(benches);
