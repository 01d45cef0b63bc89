//! What stands beside the card agrees with the card, and the best speeds with the definitions of them.

use liftmargin_core::air::air_above;
use liftmargin_core::aircraft::{Trim, best_speeds};
use liftmargin_core::card::{Outcome, card};
use liftmargin_core::flight::LossOutcome;
use liftmargin_core::frame::LayoutKind;
use liftmargin_core::limits::Thresholds;
use liftmargin_core::mass::sum;
use liftmargin_core::units::Velocity;
use uom::si::velocity::meter_per_second;

use crate::craft;

/// Leishman, Principles of Helicopter Aerodynamics, ch. 5 (from memory): best endurance is the bottom of the power
/// curve, best range the tangent to it; so range is flown faster, faster still against a headwind, and no speed near
/// either does better.
#[test]
fn val_leishman_best_speeds() {
    let (setup, site) = (craft::heavy(LayoutKind::QuadCross, 6.0), craft::site(500.0, 15.0, 3.0));
    let mass = sum(&setup.items).expect("mass");
    let trim = Trim::new(&setup.airframe, &mass).expect("trim");
    let density = air_above(&site, setup.profile.height).expect("air").density;
    let speed = Velocity::new::<meter_per_second>;
    let power = |v: f64| trim.power(density, speed(v), speed(0.0)).expect("power").value;
    let calm = best_speeds(&trim, density, speed(0.0), speed(30.0)).expect("speeds").expect("calm");
    let windy = best_speeds(&trim, density, speed(6.0), speed(30.0)).expect("speeds").expect("windy");
    assert!(calm.endurance < calm.range && calm.range < windy.range);
    assert!((calm.endurance - windy.endurance).abs() < speed(0.1));
    let (endurance, range) = (calm.endurance.value, windy.range.value);
    for off in [-1.0, 1.0] {
        assert!(power(endurance + off) > power(endurance));
        assert!(power(range + off) / (range + off - 6.0) > power(range) / (range - 6.0));
    }
    assert!(power(endurance) < power(0.0), "moving air helps a rotor");
    assert_eq!(best_speeds(&trim, density, speed(60.0), speed(80.0)), Ok(None));
}

#[test]
fn the_turn_back_table_holds_the_cards_own_figure() {
    let (setup, site) = (craft::heavy(LayoutKind::CoaxialQuad, 4.0), craft::site(1200.0, 10.0, 4.0));
    let card = card(&setup, &site, &Thresholds::default()).expect("card");
    let Outcome::Flies(flight) = &card.outcome else { panic!("{:?}", card.outcome) };
    let contingencies = craft::contingencies(&setup, &site);
    let row = contingencies
        .turn_back
        .rows
        .iter()
        .find(|row| row.distance == setup.profile.distance)
        .expect("own distance");
    let own = row.turn_back[1].expect("own wind");
    assert!(((own / flight.marks.turn_back).value - 1.0).abs() < 1e-6, "{own:?}");
    for row in &contingencies.turn_back.rows {
        assert!(row.turn_back.windows(2).all(|pair| pair[1] <= pair[0]), "more wind turns back no later");
    }
    for pair in contingencies.turn_back.rows.windows(2) {
        assert!(pair[1].turn_back[1] <= pair[0].turn_back[1], "farther turns back no later");
    }
    assert!(contingencies.warming.gained.value >= 0.0);
}

#[test]
fn one_of_two_equal_strings_is_lost_at_three_moments() {
    let (setup, site) = (craft::heavy(LayoutKind::CoaxialQuad, 4.0), craft::site(300.0, 20.0, 2.0));
    let contingencies = craft::contingencies(&setup, &site);
    assert_eq!(contingencies.strings_lost.len(), 3, "strings alike stand once");
    assert!(contingencies.strings_lost.windows(2).all(|pair| pair[0].lost.at < pair[1].lost.at));
    let before = |at: usize| contingencies.strings_lost[at].lost.cell_voltage_at_once;
    assert!(before(2) < before(0), "the rest sags more the emptier it is");
    assert!(contingencies.strings_lost.iter().all(|lost| lost.lost.outcome == LossOutcome::CarriesAlone
        || !lost.lost.stays_above_floor
        || !lost.lost.within_c_rating));
}
