//! Mass and balance against hand-worked statics.

use crate::table::assert_close;
use liftmargin_core::frame::Position;
use liftmargin_core::mass::{Item, sum};
use liftmargin_core::units::{Length, Mass, Power};
use uom::si::length::meter;
use uom::si::mass::kilogram;

fn item(mass_kg: f64, forward_m: f64, down_m: f64) -> Item {
    let metres = Length::new::<meter>;
    let position = Position { forward: metres(forward_m), right: metres(0.0), down: metres(down_m) };
    Item { mass: Mass::new::<kilogram>(mass_kg), position, power: Power::default() }
}

/// Lever law by hand: 8 kg at 0, 4 kg at 0.3 m forward, 0.5 m down: 12 kg, 0.1 m forward, 0.1667 m down.
#[test]
fn val_lever_law_centre_of_gravity() {
    let sum = sum(&[item(8.0, 0.0, 0.0), item(4.0, 0.3, 0.5)]).expect("inside the bounds");
    assert_close(sum.all_up_mass.get::<kilogram>(), 12.0, 1e-12, "mass");
    assert_close(sum.centre_of_gravity.forward.get::<meter>(), 0.1, 1e-12, "forward");
    assert_close(sum.centre_of_gravity.down.get::<meter>(), 2.0 / 12.0, 1e-12, "down");
}

#[test]
fn nothing_on_board_is_refused() {
    assert_eq!(sum(&[]).expect_err("no mass").field(), "all_up_mass");
    assert_eq!(sum(&[item(-1.0, 0.0, 0.0)]).expect_err("negative").field(), "mass");
    assert_eq!(sum(&[item(f64::NAN, 0.0, 0.0)]).expect_err("not a number").field(), "mass");
}
