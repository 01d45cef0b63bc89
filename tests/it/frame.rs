//! Frame: shares in hover and rotor-out against an independent solver and published controllability facts.

use crate::table::Table;
use liftmargin_core::frame::{
    Capability, Layout, LayoutKind, Position, hover_shares, layout, rotor_out, rotor_out_all,
};
use liftmargin_core::units::Length;
use microlp::{ComparisonOp, OptimizationDirection, Problem, SolveOutcome};
use proptest::prelude::*;
use uom::si::length::meter;

fn metres(value: f64) -> Length {
    Length::new::<meter>(value)
}

fn at(forward: f64, right: f64) -> Position {
    Position { forward: metres(forward), right: metres(right), down: metres(0.1) }
}

fn named(kind: LayoutKind) -> Layout {
    layout(kind, metres(0.7), metres(0.15)).expect("inside the bounds")
}

/// The same fact of the flat quad, with the centre of gravity as far off as a lens change moves it.
#[test]
fn a_flat_quad_off_centre_by_a_hair_still_cannot_hold_level() {
    let quad = named(LayoutKind::QuadCross);
    for forward_m in [0.0, 0.005, -0.012] {
        for out in rotor_out_all(&quad, &at(forward_m, 0.0)).expect("solved") {
            assert_eq!(out.hold.capability, Capability::CannotHoldLevel, "{forward_m} {}", out.failed);
        }
    }
}

#[test]
fn val_scipy_rotor_out_fractions() {
    for row in Table::read("rotor_out/table.csv").rows() {
        let kind = LayoutKind::from_key(row.text("layout")).expect("known layout");
        let failed = row.number("failed") as usize;
        let out = rotor_out(&named(kind), &at(0.0, 0.0), failed).expect("computed");
        for (got, column) in
            [(out.hold.greatest_turning, "turning"), (out.hold.greatest_heading_held, "heading_held")]
        {
            let error = (got.value - row.number(column)).abs();
            assert!(error < 2e-6, "{kind:?} {failed} {column}: {} off by {error}", got.value);
        }
    }
}

/// Du et al. arXiv:1307.0276 and McKay et al. 2018, see tests/references/rotor_out/SOURCE.md.
#[test]
fn val_du_mckay_flat_hexarotor_controllability() {
    let at_boundary = Capability::HoldsLevelTurning { heading_at_boundary: true };
    for out in rotor_out_all(&named(LayoutKind::HexCross), &at(0.0, 0.0)).expect("computed") {
        assert_eq!(out.hold.capability, at_boundary, "alternating spins, rotor {}", out.failed);
    }
    let alternate: Vec<_> = rotor_out_all(&named(LayoutKind::HexCrossAlternate), &at(0.0, 0.0))
        .expect("computed")
        .into_iter()
        .map(|out| out.hold.capability == Capability::HoldsLevelAndHeading)
        .collect();
    assert_eq!(alternate, [true, true, true, true, false, false]);
}

#[test]
fn val_scipy_capabilities_of_common_layouts() {
    for (kind, capability) in [
        (LayoutKind::QuadCross, Capability::CannotHoldLevel),
        (LayoutKind::QuadPlus, Capability::CannotHoldLevel),
        (LayoutKind::OctoCross, Capability::HoldsLevelAndHeading),
        (LayoutKind::CoaxialQuad, Capability::HoldsLevelAndHeading),
    ] {
        for out in rotor_out_all(&named(kind), &at(0.0, 0.0)).expect("computed") {
            assert_eq!(out.hold.capability, capability, "{kind:?} rotor {}", out.failed);
        }
    }
}

/// The same question to a general solver.
fn by_general_solver(layout: &Layout, cg: &Position, failed: usize, hold_heading: bool) -> f64 {
    let mut problem = Problem::new(OptimizationDirection::Maximize);
    let thrusts: Vec<_> = layout
        .places
        .iter()
        .enumerate()
        .map(|(index, _)| problem.add_var(1.0, (0.0, if index == failed { 0.0 } else { 1.0 })))
        .collect();
    let mut balance = |lever: &dyn Fn(usize) -> f64| {
        let row: Vec<_> = thrusts.iter().enumerate().map(|(index, t)| (*t, lever(index))).collect();
        problem.add_constraint(row, ComparisonOp::Eq, 0.0);
    };
    balance(&|i| (layout.places[i].position.forward - cg.forward).value);
    balance(&|i| (layout.places[i].position.right - cg.right).value);
    if hold_heading {
        balance(&|i| {
            if layout.places[i].spin == liftmargin_core::frame::Spin::Clockwise { -1.0 } else { 1.0 }
        });
    }
    let SolveOutcome::Solution(solution) = problem.solve().expect("feasible: all rotors stopped") else {
        panic!("the general solver was interrupted");
    };
    solution.objective() / layout.places.len() as f64
}

fn any_kind() -> impl Strategy<Value = LayoutKind> {
    prop::sample::select(LayoutKind::ALL.to_vec())
}

proptest! {
    #[test]
    fn prop_rotor_out_agrees_with_a_general_solver(
        kind in any_kind(), forward in -0.25..0.25f64, right in -0.25..0.25f64, failed in 0usize..4,
    ) {
        let (layout, cg) = (named(kind), at(forward, right));
        let out = rotor_out(&layout, &cg, failed).expect("computed");
        prop_assert!((out.hold.greatest_turning.value - by_general_solver(&layout, &cg, failed, false)).abs() < 1e-6);
        prop_assert!((out.hold.greatest_heading_held.value - by_general_solver(&layout, &cg, failed, true)).abs() < 1e-6);
        prop_assert!(out.hold.greatest_heading_held.value <= out.hold.greatest_turning.value + 1e-9);
        prop_assert!(out.hold.greatest_turning.value <= 1.0);
    }

    #[test]
    fn prop_shares_hold_level(kind in any_kind(), forward in -0.1..0.1f64, right in -0.1..0.1f64) {
        let (layout, cg) = (named(kind), at(forward, right));
        let shares = hover_shares(&layout, &cg).expect("centre of gravity inside");
        let sum: f64 = shares.iter().map(|s| s.value).sum();
        prop_assert!((sum - 1.0).abs() < 1e-9);
        prop_assert!(shares.iter().all(|s| s.value >= 0.0));
        let moment = |axis: &dyn Fn(&Position) -> f64| -> f64 {
            layout.places.iter().zip(&shares).map(|(p, s)| s.value * axis(&p.position)).sum()
        };
        prop_assert!((moment(&|p| p.forward.value) - forward).abs() < 1e-9);
        prop_assert!((moment(&|p| p.right.value) - right).abs() < 1e-9);
    }

    #[test]
    fn prop_symmetric_setups_load_rotors_alike(kind in any_kind(), arm in 0.05..3.0f64) {
        let layout = layout(kind, metres(arm), metres(0.1)).expect("inside the bounds");
        let shares = hover_shares(&layout, &at(0.0, 0.0)).expect("balanced");
        let mean = 1.0 / shares.len() as f64;
        prop_assert!(shares.iter().all(|s| (s.value - mean).abs() < 1e-9));
    }

    /// Turning the frame about the vertical changes no rotor's share and no rotor-out figure.
    #[test]
    fn prop_turning_the_frame_changes_nothing(kind in any_kind(), angle in 0.0..core::f64::consts::TAU, forward in -0.08..0.08f64) {
        // A quad that lost a rotor holds level at its very middle and nowhere behind it: there the last digit decides.
        prop_assume!(forward.abs() > 1e-4);
        let (cos, sin) = (angle.cos(), angle.sin());
        let turn = |p: &Position| Position {
            forward: p.forward * cos - p.right * sin, right: p.forward * sin + p.right * cos, down: p.down,
        };
        let straight = named(kind);
        let mut turned = straight.clone();
        for place in &mut turned.places {
            place.position = turn(&place.position);
        }
        let (cg, cg_turned) = (at(forward, 0.0), turn(&at(forward, 0.0)));
        let shares = (hover_shares(&straight, &cg).expect("held"), hover_shares(&turned, &cg_turned).expect("held"));
        prop_assert!(shares.0.iter().zip(&shares.1).all(|(a, b)| (a.value - b.value).abs() < 1e-9));
        let outs = (rotor_out(&straight, &cg, 1).expect("out"), rotor_out(&turned, &cg_turned, 1).expect("out"));
        prop_assert!((outs.0.hold.greatest_turning.value - outs.1.hold.greatest_turning.value).abs() < 1e-9);
    }
}

#[test]
fn far_centre_of_gravity_is_refused() {
    let refusal = hover_shares(&named(LayoutKind::QuadCross), &at(0.9, 0.0)).expect_err("outside the rotors");
    assert_eq!(refusal.field(), "layout");
}
