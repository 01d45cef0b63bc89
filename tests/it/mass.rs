//! Mass and balance against hand-worked statics, and the mass limits of the law.

use crate::table::assert_close;
use liftmargin_core::frame::Position;
use liftmargin_core::input_error::InputError;
use liftmargin_core::mass::{BalanceFault, Item, mass_notes, slide_to, slide_to_balance, sum};
use liftmargin_core::units::{Length, Mass, Power};
use proptest::prelude::*;
use uom::si::length::meter;
use uom::si::mass::{gram, kilogram, pound};

fn item(mass_kg: f64, forward_m: f64, right_m: f64, down_m: f64) -> Item {
    let metres = Length::new::<meter>;
    let position = Position { forward: metres(forward_m), right: metres(right_m), down: metres(down_m) };
    Item { mass: Mass::new::<kilogram>(mass_kg), position, power: Power::default() }
}

/// Lever law by hand: 8 kg at 0, 4 kg at 0.3 m forward, 0.06 m left, 0.5 m down: 12 kg, 0.1, −0.02, 0.1667 m.
#[test]
fn val_lever_law_centre_of_gravity() {
    let sum = sum(&[item(8.0, 0.0, 0.0, 0.0), item(4.0, 0.3, -0.06, 0.5)]).unwrap();
    assert_close(sum.all_up_mass.get::<kilogram>(), 12.0, 1e-12, "mass");
    assert_close(sum.centre_of_gravity.forward.get::<meter>(), 0.1, 1e-12, "forward");
    assert_close(sum.centre_of_gravity.right.get::<meter>(), -0.02, 1e-12, "right");
    assert_close(sum.centre_of_gravity.down.get::<meter>(), 2.0 / 12.0, 1e-12, "down");
}

/// Lever law by hand: 4 kg of 12 kg must go back three times what the centre is forward.
#[test]
fn val_lever_law_slide() {
    let items = [item(8.0, 0.0, 0.0, 0.0), item(4.0, 0.3, -0.06, 0.5)];
    let slide = slide_to_balance(&items, &[1, 1]).unwrap();
    assert_close(slide.forward.get::<meter>(), -0.3, 1e-12, "forward");
    assert_close(slide.right.get::<meter>(), 0.06, 1e-12, "right");
    let target = Length::new::<meter>(0.05);
    let slide = slide_to(&items, &[0, 1], target, Length::default()).unwrap();
    assert_close(slide.forward.get::<meter>(), -0.05, 1e-12, "all together, forward");
}

#[test]
fn bad_balances_are_refused_by_name() {
    assert_eq!(sum(&[]).expect_err("no mass").field(), "all_up_mass");
    assert_eq!(sum(&[item(-1.0, 0.0, 0.0, 0.0)]).expect_err("negative").field(), "mass");
    assert_eq!(sum(&[item(f64::NAN, 0.0, 0.0, 0.0)]).expect_err("not a number").field(), "mass");
    assert_eq!(sum(&[item(1.0, 0.0, 4.0, 0.0)]).expect_err("far off").field(), "position");
    let items = [item(8.0, 0.1, 0.0, 0.0), item(0.0, 0.3, 0.0, 0.5)];
    let nothing = InputError::Balance(BalanceFault::NothingToMove);
    assert_eq!(slide_to_balance(&items, &[1]).expect_err("weighs nothing"), nothing);
    assert_eq!(slide_to_balance(&items, &[]).expect_err("nothing named"), nothing);
    let nowhere = InputError::Balance(BalanceFault::NoSuchItem { item: 2, items: 2 });
    assert_eq!(slide_to_balance(&items, &[0, 2]).expect_err("not on board"), nowhere);
    let light = [item(30.0, 0.5, 0.0, 0.0), item(0.5, 0.0, 0.0, 0.0)];
    assert_eq!(slide_to_balance(&light, &[1]).expect_err("30 m back").field(), "position");
}

/// 14 CFR 107.3 (less than 55 lb) and Regulation (EU) 2019/947 Article 4(1) (less than 25 kg); 1 lb = 0.45359237 kg.
#[test]
fn val_law_mass_limits() {
    let within = |mass: Mass| -> Vec<(&str, bool)> {
        mass_notes(mass).unwrap().iter().map(|state| (state.note.key, state.is_within)).collect()
    };
    let kg = Mass::new::<kilogram>;
    for (mass, us, eu) in [
        (kg(24.9), true, true),
        (kg(24.947), true, true),
        (Mass::new::<pound>(55.0), false, true),
        (kg(24.96), false, true),
        (kg(25.0), false, false),
    ] {
        assert_eq!(within(mass), [("us-55-lb", us), ("eu-25-kg", eu)], "{mass:?}");
    }
    let states = mass_notes(kg(24.0)).unwrap();
    let apart = states[1].margin - states[0].margin;
    assert_close(apart.get::<gram>(), 52.42, 1e-3, "the limits lie 52 g apart");
    assert!(states.iter().all(|state| !state.note.source.is_empty() && state.note.strictly_below));
}

fn any_item() -> impl Strategy<Value = Item> {
    (0.0..=20.0f64, -1.0..=1.0f64, -1.0..=1.0f64, -1.0..=1.0f64).prop_map(|(m, x, y, z)| item(m, x, y, z))
}

proptest! {
    #[test]
    fn prop_more_items_never_lower_the_mass(
        items in prop::collection::vec(any_item(), 1..8), more in any_item(),
    ) {
        let mut all = items.clone();
        all.push(more);
        if let (Ok(before), Ok(after)) = (sum(&items), sum(&all)) {
            prop_assert!(after.all_up_mass >= before.all_up_mass);
        }
    }

    #[test]
    fn prop_a_slide_balances(items in prop::collection::vec(any_item(), 2..8)) {
        let mut items = items;
        match slide_to_balance(&items, &[0]) {
            Ok(slide) => {
                items[0].position.forward += slide.forward;
                items[0].position.right += slide.right;
                let cg = sum(&items).expect("still inside the bounds").centre_of_gravity;
                prop_assert!(cg.forward.value.abs() < 1e-9 && cg.right.value.abs() < 1e-9, "{cg:?}");
            }
            Err(refusal) => prop_assert!(["position", "all_up_mass", "balance"].contains(&refusal.field())),
        }
    }
}
