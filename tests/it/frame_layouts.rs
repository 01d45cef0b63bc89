//! The named layouts, layouts entered by hand, and rotor-out of all of them.

use crate::craft_places::{at, metres, named, places};
use crate::table::Table;
use liftmargin_core::frame::{
    Layout, LayoutFault, LayoutKind, Place, RotorRole, Spin, hover_shares, layout, rotor_out,
};
use liftmargin_core::input_error::InputError;

/// HiGHS; tolerance: see SOURCE.md.
#[test]
fn val_scipy_rotor_out_of_all_layouts_off_centre_too() {
    for row in Table::read("rotor_out/all_layouts.csv").rows() {
        let layout = match row.text("layout") {
            "PPNNPP" => places(1.0, 30.0, "PPNNPP"),
            "PPNNPPNN" => places(1.0, 22.5, "PPNNPPNN"),
            key => layout(LayoutKind::from_key(key).unwrap(), metres(1.0), metres(0.2)).unwrap(),
        };
        let failed = if row.text("failed") == "-1" { usize::MAX } else { row.number("failed") as usize };
        let cg = at(row.number("forward_over_arm"), row.number("right_over_arm"));
        let out = rotor_out(&layout, &cg, failed).unwrap();
        for (got, column) in
            [(out.hold.greatest_turning, "turning"), (out.hold.greatest_heading_held, "heading_held")]
        {
            let error = (got.value - row.number(column)).abs();
            let what = format!("{} at {cg:?}, rotor {failed}", row.text("layout"));
            assert!(error < 1e-6, "{what}, {column}: {} off by {error}", got.value);
        }
    }
}

#[test]
fn keys_come_back() {
    for kind in LayoutKind::ALL {
        assert_eq!(LayoutKind::from_key(kind.key()), Some(kind));
    }
    assert_eq!(LayoutKind::from_key("hex"), None);
}

/// Numbered clockwise from right of the nose (plus: from the nose), upper before lower, half the rotors each way.
/// Sines and cosines of 22.5, 30, 45, 60 degrees by hand.
#[test]
fn named_layouts_are_laid_out_as_documented() {
    let (half, root) = (0.5, 0.75_f64.sqrt());
    let diagonal = 0.5_f64.sqrt();
    for (kind, rotors, first_forward, first_right) in [
        (LayoutKind::QuadCross, 4, diagonal, diagonal),
        (LayoutKind::QuadPlus, 4, 1.0, 0.0),
        (LayoutKind::HexCross, 6, root, half),
        (LayoutKind::HexCrossAlternate, 6, root, half),
        (LayoutKind::HexPlus, 6, 1.0, 0.0),
        (LayoutKind::OctoCross, 8, 0.923_879_532_5, 0.382_683_432_4),
        (LayoutKind::OctoPlus, 8, 1.0, 0.0),
        (LayoutKind::CoaxialTri, 6, half, root),
        (LayoutKind::CoaxialQuad, 8, diagonal, diagonal),
    ] {
        let places = layout(kind, metres(1.0), metres(0.2)).unwrap().places;
        assert_eq!(places.len(), rotors, "{kind:?}");
        let first = places[0].position;
        assert!((first.forward.value - first_forward).abs() < 1e-9, "{kind:?} {first:?}");
        assert!((first.right.value - first_right).abs() < 1e-9, "{kind:?} {first:?}");
        assert_eq!(places.iter().filter(|p| p.spin == Spin::Clockwise).count() * 2, rotors, "{kind:?}");
        if kind.is_coaxial() {
            for pair in places.chunks(2) {
                assert_eq!((pair[0].role, pair[1].role), (RotorRole::Upper, RotorRole::Lower));
                assert_ne!(pair[0].spin, pair[1].spin);
                let gap = pair[1].position.down - pair[0].position.down;
                assert!((gap.value - 0.2).abs() < 1e-12, "{gap:?}");
            }
        }
    }
}

#[test]
fn bad_layouts_are_refused_by_name() {
    let good = named(LayoutKind::HexCross).places;
    let with = |change: &dyn Fn(&mut Place)| {
        let mut places = good.clone();
        change(&mut places[2]);
        Layout::from_places(places).expect_err("refused").field()
    };
    assert_eq!(with(&|p| p.position.forward = metres(3.5)), "position");
    assert_eq!(with(&|p| p.position.right = metres(f64::NAN)), "position");
    assert_eq!(with(&|p| p.role = RotorRole::Lower), "layout");
    let too_few = Layout::from_places(good[..2].to_vec()).expect_err("two rotors");
    assert_eq!(too_few, InputError::Layout(LayoutFault::TooFewRotors { rotors: 2 }));
    assert_eq!(Layout::from_places(good.repeat(3)).expect_err("18 rotors").field(), "rotors");
    let no_arm = layout(LayoutKind::QuadPlus, metres(0.0), metres(0.1));
    assert_eq!(no_arm.expect_err("no arm").field(), "arm_length");
    let no_gap = layout(LayoutKind::CoaxialTri, metres(1.0), metres(0.0));
    assert_eq!(no_gap.expect_err("no gap").field(), "coaxial_spacing");
}

/// Lever law by hand: on a quad with arms 1 m the pair in front carries (1 + c√2) / 2 for a centre c forward.
#[test]
fn val_lever_law_quad_shares() {
    let quad = layout(LayoutKind::QuadCross, metres(1.0), metres(0.1)).unwrap();
    let shares = hover_shares(&quad, &at(0.1, 0.0)).unwrap();
    let front = f64::midpoint(1.0, 0.1 * 2.0_f64.sqrt()) / 2.0;
    for (index, expected) in [(0, front), (1, 0.5 - front), (2, 0.5 - front), (3, front)] {
        assert!((shares[index].value - expected).abs() < 1e-12, "{shares:?}");
    }
}

/// Three single rotors cannot balance their drag torque: level is held all the same.
#[test]
fn three_single_rotors_hold_level() {
    let shares = hover_shares(&places(1.0, 60.0, "PNP"), &at(0.0, 0.0)).unwrap();
    assert!(shares.iter().all(|share| (share.value - 1.0 / 3.0).abs() < 1e-12), "{shares:?}");
}
