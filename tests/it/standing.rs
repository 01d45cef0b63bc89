//! A what-if and a change in words: what differs, before and after, what moved.

use liftmargin_core::card::{WorstRotorOut, rotors_stopped};
use liftmargin_core::frame::{Capability, stopped};
use liftmargin_core::limits::{CheckKind, State};
use liftmargin_core::units::{ElectricCharge, Ratio, Time};
use liftmargin_document::model::{Airframe, Bundle, Item, Setup, Site};
use liftmargin_document::present::{Reading, Standing, Units, Way, rotors_left};
use liftmargin_document::record::Record;
use liftmargin_document::whatif::{Change, WhatIf, apply};
use liftmargin_document::words::counts_with::counts_with;
use liftmargin_document::words::gust_below_wind;
use liftmargin_document::words::way_out::worst_rotor;
use liftmargin_document::words::what_if::differs;
use liftmargin_document::workspace::{self, overlay};
use liftmargin_document::{open_strict, resolve};
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
    // More margin of another check, and yet worse: the state says why.
    let watched = standing(State::Watch, 15_730.0, 587.0, 0.10);
    for (after, change, way) in
        [(&watched, "Watch", Way::Worse), (&worse, "No", Way::Worse), (&before, "", Way::Same)]
    {
        let shown = Standing::margins(&before, after);
        assert_eq!((shown.change.as_str(), shown.way), (change, way));
    }
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

/// Steps add up, take each other back, and stop at the range of a mass.
#[test]
fn a_mass_goes_up_and_down_in_steps_and_stays_in_its_range() {
    let (bundle, setup) = demo();
    let item = &setup.load[0].item;
    let saved = Item::find(&bundle, item).expect("in the file").1.mass_kg;
    let mut what_if = WhatIf::default();
    for _ in 0..3 {
        overlay::step_mass(&bundle, &mut what_if, item, 0.1);
    }
    assert!((overlay::heavier_kg(&bundle, &what_if, item) - 0.3).abs() < 1e-9);
    for _ in 0..3 {
        overlay::step_mass(&bundle, &mut what_if, item, -0.1);
    }
    assert_eq!(what_if, WhatIf::default());
    overlay::step_mass(&bundle, &mut what_if, item, -saved - 1.0);
    assert_eq!(what_if, WhatIf::default(), "a mass below nothing was taken");
    let others = overlay::others_of_its_kind(&bundle, item);
    let kind = &Item::find(&bundle, item).expect("in the file").1.kind;
    assert!(others.iter().all(|other| other.kind == *kind && other.id != *item));
    assert!(others.is_sorted_by(|one, other| one.mass_kg <= other.mass_kg));
}

#[test]
fn a_gust_below_the_wind_is_told_with_what_counts_instead() {
    let (bundle, _) = demo();
    let mut site = bundle.sites[0].clone();
    (site.wind_m_s, site.gust_m_s) = (9.0, 5.0);
    let said = gust_below_wind(&site, Units::metric()).expect("it is told");
    assert!(said.contains("(18\u{a0}km/h)") && said.contains("a gust of 33\u{a0}km/h"), "{said}");
    for gust_m_s in [9.0, 14.0] {
        site.gust_m_s = gust_m_s;
        assert_eq!(gust_below_wind(&site, Units::metric()), None);
    }
}

/// With a rotor stopped: a row a rotor, the stopped one named; more power than whole, and the minutes in words.
#[test]
fn rotors_left_at_work_stand_in_rows() {
    let (bundle, _) = demo();
    let mut flown = 0;
    for setup in &bundle.setups {
        let Ok((setup, site)) = resolve(&bundle, &setup.id) else { continue };
        let count = setup.airframe.layout.places.len();
        let left = rotors_stopped(&setup, &site, &stopped(&setup.airframe.layout, &[1])).expect("in range");
        let Some(shown) = rotors_left(&left, &setup, Units::metric()) else { continue };
        flown += 1;
        assert_eq!(shown.rows.len(), count);
        assert_eq!(shown.rows[1][..2], ["2".to_owned(), "stopped".to_owned()]);
        let throttles = shown.rows.iter().filter(|row| row[2].ends_with('%')).count();
        assert_eq!(throttles, count - 1, "{shown:?}");
        assert!(shown.sentence.contains("kW") || shown.sentence.contains('W'), "{shown:?}");
    }
    assert!(flown > 0, "no aircraft of the demo flies on with a rotor stopped");
}

#[test]
fn a_lost_rotor_is_told_in_words() {
    let of = |capability, with_heading: f64, level: f64| WorstRotorOut {
        failed: 2,
        capability,
        with_heading: Ratio::new::<ratio>(with_heading),
        level: Ratio::new::<ratio>(level),
        state: State::Watch,
    };
    let turning = Capability::HoldsLevelTurning { heading_at_boundary: false };
    for (worst, words) in [
        (of(Capability::CannotHoldLevel, 0.0, 0.0), "Falls if rotor 3 stops"),
        (of(turning, 0.0, 0.9), "but sinks"),
        (of(turning, 0.0, 1.2), "turns: land at once"),
        (of(Capability::HoldsLevelAndHeading, 1.1, 1.3), "on its heading"),
    ] {
        let said = worst_rotor(&worst);
        assert!(said.contains(words), "{said}");
    }
}

/// Each part of what counts leads to a record that is there, and the line names site, airframe and packs.
#[test]
fn the_card_says_what_it_counts_with() {
    let (bundle, _) = demo();
    for setup in &bundle.setups {
        let parts = counts_with(&bundle, setup, Units::metric());
        let line = parts.iter().map(|part| part.words.as_str()).collect::<Vec<_>>().join(" \u{b7} ");
        let (_, site) = Site::find(&bundle, &setup.site).expect("in the file");
        let (_, airframe) = Airframe::find(&bundle, &setup.airframe).expect("in the file");
        for words in [site.name.as_str(), airframe.name.as_str(), "wind", "gust", "away", "string"] {
            assert!(line.contains(words), "{words} in {line}");
        }
        for part in &parts {
            let id = if part.list == "sites" { &setup.site } else { &setup.id };
            assert_eq!(&part.id, id, "{part:?}");
        }
    }
}
