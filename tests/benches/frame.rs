//! Rotor-out of a whole aircraft: budget 1 ms for eight rotors.

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use liftmargin_core::frame::{LayoutKind, Position, hover_shares, layout, rotor_out_all};
use liftmargin_core::units::Length;
use uom::si::length::meter;

fn frame(criterion: &mut Criterion) {
    let metres = Length::new::<meter>;
    let cg = Position { forward: metres(0.03), right: metres(-0.02), down: metres(0.2) };
    for kind in [LayoutKind::CoaxialQuad, LayoutKind::OctoCross] {
        let eight = layout(kind, metres(0.7), metres(0.15)).expect("inside the bounds");
        criterion.bench_function(&format!("rotor_out_all {}", kind.key()), |bencher| {
            bencher.iter(|| rotor_out_all(black_box(&eight), black_box(&cg)));
        });
        criterion.bench_function(&format!("hover_shares {}", kind.key()), |bencher| {
            bencher.iter(|| hover_shares(black_box(&eight), black_box(&cg)));
        });
    }
}

criterion_group!(benches, frame);
criterion_main!(benches);
