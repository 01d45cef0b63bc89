//! One basis of caution: whatever a pilot may fly by is cautious, and one figure for one meter.

use liftmargin_core::air::Site;
use liftmargin_core::card::{Prepared, Setup};
use liftmargin_core::limits::Thresholds;
use liftmargin_core::spread::Uncertainty;
use liftmargin_core::units::ElectricCharge;
use liftmargin_document::present::{Headline, Units, answer, by_meter, flight_of, turn_back_lines};
use liftmargin_document::{open_strict, resolve};
use proptest::prelude::*;
use uom::si::ratio::ratio;

const DEMO: &str = include_str!("../../demo-data/mountain-road.json");

fn demo() -> Vec<(Setup, Site)> {
    let bundle = open_strict(DEMO).expect("opens");
    bundle.setups.iter().filter_map(|setup| resolve(&bundle, &setup.id).ok()).collect()
}

/// All that is shown of one setup agrees; whether it flies.
fn agrees(setup: &Setup, site: &Site) -> bool {
    let thresholds = Thresholds::default();
    let Ok(prepared) = Prepared::new(setup, site, &thresholds) else { return false };
    let Ok(card) = prepared.card() else { return false };
    let Some(flight) = flight_of(&card) else { return false };
    let sampler = prepared.sampler(&Uncertainty::for_airframe(&setup.airframe), 1).expect("in range");
    let cautious = sampler.and_then(|sampler| sampler.cautious(24)).expect("a flight has samples");
    let headline = Headline::new(&card, Some(&cautious), None, true).expect("flies");
    let (land_by, turn_back) = (headline.land_by.expect("fresh"), headline.turn_back.expect("fresh"));
    let lines = by_meter(flight, headline).expect("fresh");
    let own = lines.iter().find(|line| line.is_on_board).expect("the meter on board is one of them");
    let shown = |charge| answer::charge(charge, Units::default());
    assert_eq!(shown(own.land_by.cautious), shown(land_by));
    assert_eq!(shown(own.turn_back.cautious), shown(turn_back));
    for line in &lines {
        assert!(line.land_by.cautious <= line.land_by.typical, "{line:?}");
        assert!(line.turn_back.cautious <= line.turn_back.typical, "{line:?}");
    }
    let table = prepared.contingencies().expect("in range").expect("flies").turn_back;
    let rows = turn_back_lines(&table, flight, headline).expect("fresh");
    let all = rows.iter().flat_map(|row| row.turn_back.iter().flatten());
    all.for_each(|cell| assert!(cell.cautious <= cell.typical && cell.cautious <= land_by, "{cell:?}"));
    // The planned place in the planned wind: core lists it third of the distances, second of the winds.
    let planned =
        rows[2].turn_back[1].filter(|_| setup.profile.distance.value > 0.0 && site.wind.value > 0.0);
    if let Some(planned) = planned {
        assert_eq!(shown(planned.typical), shown(flight.marks.turn_back));
        let either = [shown(turn_back), shown(ElectricCharge::default())];
        assert!(either.contains(&shown(planned.cautious)), "{planned:?} {headline:?}");
    }
    true
}

#[test]
fn prop_the_demo_has_one_land_by_for_one_meter() {
    let flown = demo().iter().filter(|(setup, site)| agrees(setup, site)).count();
    assert!(flown > 0, "no setup of the demo flies");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(50))]
    #[test]
    fn prop_any_setup_has_one_land_by_for_one_meter(
        which in 0_usize..8, heavier in 0.6..1.3_f64, further in 0.0..6.0_f64, windier in 0.0..1.6_f64,
        reserve in 0.1..0.5_f64,
    ) {
        let all = demo();
        let (mut setup, mut site) = all[which % all.len()].clone();
        setup.items.iter_mut().for_each(|item| item.mass *= heavier);
        setup.profile.distance *= further;
        setup.policy.share = liftmargin_core::units::Ratio::new::<ratio>(reserve);
        site.wind *= windier;
        agrees(&setup, &site);
    }
}
