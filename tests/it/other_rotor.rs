//! A bench table under another rotor than the one it was measured with: told, and never better known for it.

use liftmargin_core::propulsion::{Evidence, PropulsionUnit, operate};
use liftmargin_core::rotor::Flow;
use liftmargin_core::units::{Force, MassDensity};
use liftmargin_document::model::Bundle;
use liftmargin_document::model::numbers::{BENCH_ROTOR, ROTOR_DIAMETER};
use liftmargin_document::open::open_strict;
use liftmargin_document::present::Units;
use liftmargin_document::resolve::resolve_airframe;
use liftmargin_document::words;
use proptest::prelude::*;
use uom::si::force::newton;
use uom::si::mass_density::kilogram_per_cubic_meter;

fn demo() -> Bundle {
    open_strict(include_str!("../../demo-data/mountain-road.json")).expect("the demo opens")
}

/// The first aircraft's unit after its rotor was changed on screen.
fn with_rotor(diameter_m: f64) -> PropulsionUnit {
    let mut bundle = demo();
    let airframe = &mut bundle.airframes[0];
    ROTOR_DIAMETER.set(airframe, Some(diameter_m));
    resolve_airframe(airframe).expect("resolves").airframe.unit
}

fn measured_m() -> f64 {
    demo().airframes[0].propulsion.rotor_diameter_m
}

#[test]
fn a_changed_rotor_is_remembered_and_told() {
    let mut bundle = demo();
    let airframe = &mut bundle.airframes[0];
    let before = airframe.propulsion.rotor_diameter_m;
    // As typed: 5, 56, 560 mm.
    for diameter_m in [0.005, 0.056, 0.56] {
        ROTOR_DIAMETER.set(airframe, Some(diameter_m));
    }
    assert_eq!(BENCH_ROTOR.get(airframe), Some(before));
    let unit = resolve_airframe(airframe).expect("resolves").airframe.unit;
    let said = words::evidence(&unit.evidence, Units::default());
    assert!(said.contains("measured with a rotor of 610"), "{said}");
    let same = words::evidence(&with_rotor(before).evidence, Units::default());
    assert!(!same.contains("measured with a rotor"), "{same}");
}

/// T = C_T rho n^2 D^4: at equal speed and shape.
#[test]
fn val_similar_rotor_scales_by_the_fourth_power() {
    let density = MassDensity::new::<kilogram_per_cubic_meter>(1.225);
    let (whole, small) = (with_rotor(measured_m()), with_rotor(0.9 * measured_m()));
    let at = |unit: &PropulsionUnit, thrust_n: f64| {
        operate(unit, density, Force::new::<newton>(thrust_n), &Flow::still()).expect("operates").speed.value
    };
    let (thrust_n, less_n) = (40.0, 40.0 * 0.9_f64.powi(4));
    assert!((at(&small, less_n) / at(&whole, thrust_n) - 1.0).abs() < 1e-9);
}

proptest! {
    #[test]
    fn prop_another_rotor_is_never_better_known(scale in 0.75..1.3_f64) {
        let same = with_rotor(measured_m()).evidence;
        let other = with_rotor(scale * measured_m()).evidence;
        prop_assert!(other.thrust_spread() >= same.thrust_spread());
        prop_assert!(other.power_spread() >= same.power_spread());
        prop_assert!(other.greatest_thrust() <= same.greatest_thrust());
        let told = matches!(other, Evidence::Bench { other_rotor: Some(_), .. });
        prop_assert_eq!(told, (scale - 1.0).abs() >= 0.005);
    }
}
