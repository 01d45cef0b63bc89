//! A what-if and a change in words: what differs, before and after, what moved.

use liftmargin_core::limits::{CheckKind, State};
use liftmargin_core::units::{ElectricCharge, Ratio, Time};
use liftmargin_document::model::{Bundle, Item, Setup};
use liftmargin_document::open_strict;
use liftmargin_document::present::{Reading, Standing, Units, Way};
use liftmargin_document::record::Record;
use liftmargin_document::whatif::{Change, WhatIf, apply};
use liftmargin_document::words::what_if::differs;
use liftmargin_document::workspace;
use uom::si::electric_charge::milliampere_hour;
use uom::si::ratio::ratio;
use uom::si::time::second;

const DEMO: &str = include_str!("../../demo-data/mountain-road.json");

fn standing(state: State, land_by_mah: f64, flight_time_s: f64, margin: f64) -> Standing {
    Standing {
        state,
        land_by: Reading::Known(ElectricCharge::new::<milliampere_hour>(land_by_mah)),
        flight_time: Reading::Known(Time::new::<second>(flight_time_s)),
        tightest: Some((CheckKind::Balance, Some(Ratio::new::<ratio>(margin)))),
        thrust_to_weight: Ratio::new::<ratio>(2.0),
        is_settled: true,
    }
}

#[test]
fn what_moved_is_said_in_words_and_nothing_where_nothing_did() {
    let units = Units::default();
    let before = standing(State::Fine, 15_730.0, 587.0, 0.07);
    let after = standing(State::Watch, 15_420.0, 544.0, 0.02);
    let said = Standing::moved(&before, &after, units);
    assert_eq!(
        said.as_deref(),
        Some("Verdict Watch, was Fine; flight time \u{2212}40\u{a0}s; land by \u{2212}300\u{a0}mAh.")
    );
    assert_eq!(Standing::moved(&before, &before, units), None);
    let unsettled = Standing { is_settled: false, ..after };
    assert_eq!(Standing::moved(&before, &unsettled, units), None);
}

#[test]
fn a_figure_that_is_none_says_why_and_is_no_zero() {
    let units = Units::default();
    let before = standing(State::Fine, 15_730.0, 587.0, 0.07);
    for (reading, words, way) in [
        (Reading::NotAssured, "not assured", Way::Worse),
        (Reading::NoFlight, "no flight", Way::Worse),
        (Reading::Computing, "…", Way::Same),
    ] {
        let after = Standing { land_by: reading, ..before.clone() };
        let shown = Standing::landing(&before, &after, units);
        assert_eq!((shown.after.as_str(), shown.way), (words, way));
    }
    let worse = Standing { state: State::No, tightest: Some((CheckKind::RotorOut, None)), ..before.clone() };
    assert_eq!(Standing::margins(&before, &worse).way, Way::Worse);
    assert_eq!(Standing::margins(&worse, &before).way, Way::Better);
}

fn demo() -> (Bundle, Setup) {
    let bundle = open_strict(DEMO).expect("opens");
    let setup = bundle.setups[0].clone();
    (bundle, setup)
}

#[test]
fn a_what_if_says_what_differs() {
    let (bundle, setup) = demo();
    let [one, two] = [&setup.load[0].item, &setup.load[1].item];
    let saved = |id: &str| Item::find(&bundle, id).expect("in the file").1;
    let name = |id: &str| saved(id).name.as_str();
    let changes = vec![
        Change::Swap { from: one.clone(), to: two.clone() },
        Change::Leave { item: one.clone() },
        Change::ItemMass { item: two.clone(), mass_kg: saved(two).mass_kg + 0.6 },
        Change::ExtraMass { mass_kg: 1.2, position_m: [0.0; 3] },
    ];
    let said = differs(&bundle, &WhatIf { changes }, Units::metric());
    let expected = format!(
        "{two} instead of {one}; {one} left on the ground; {two} heavier by 0.60\u{a0}kg; 1.20\u{a0}kg extra with the payload",
        one = name(one),
        two = name(two)
    );
    assert_eq!(said, expected);
}

/// A what-if taken over weighs what it weighed, and no other setup does otherwise than before.
#[test]
fn a_what_if_taken_over_changes_this_setup_alone() {
    let (bundle, setup) = demo();
    let mass = |bundle: &Bundle, id: &str| -> f64 {
        let (_, setup) = Setup::find(bundle, id).expect("the setup");
        let on = setup.load.iter().filter(|load| load.on);
        on.map(|load| Item::find(bundle, &load.item).expect("the item").1.mass_kg).sum()
    };
    for load in setup.load.iter().filter(|load| load.on) {
        let changes = vec![
            Change::ItemMass { item: load.item.clone(), mass_kg: 2.5 },
            Change::ExtraMass { mass_kg: 0.3, position_m: [0.0, 0.0, 0.2] },
        ];
        let what_if = WhatIf { changes };
        let taken = workspace::change(&bundle, &setup.id, &what_if).expect("the what-if fits");
        let laid_over = apply(&bundle, &setup.id, &what_if).expect("the what-if fits");
        assert!((mass(&taken, &setup.id) - mass(&laid_over, &setup.id)).abs() < 1e-12);
        assert_eq!(taken.setups.len(), bundle.setups.len());
        for other in bundle.setups.iter().filter(|other| other.id != setup.id) {
            assert!((mass(&taken, &other.id) - mass(&bundle, &other.id)).abs() < 1e-12, "{}", other.id);
        }
    }
}
