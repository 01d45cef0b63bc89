//! What decides what is shown: never a bolder figure, better and worse from figures, the meter on board.

use liftmargin_core::air::Site;
use liftmargin_core::card::{Card, Cautious, FirstCautious, Prepared, Setup};
use liftmargin_core::limits::Thresholds;
use liftmargin_core::spread::Uncertainty;
use liftmargin_core::supply::{Meter, MeterPlace};
use liftmargin_core::units::{ElectricCharge, Ratio, Time};
use liftmargin_document::present::{
    BeforeAfter, DecimalMark, Headline, Units, Way, flight_of, meter_reading,
};
use liftmargin_document::{open_strict, resolve};
use proptest::prelude::*;
use uom::si::electric_charge::milliampere_hour;
use uom::si::ratio::ratio;
use uom::si::time::second;

const DEMO: &str = include_str!("../../demo-data/mountain-road.json");

fn demo() -> (Setup, Site) {
    resolve(&open_strict(DEMO).expect("opens"), "bend-follow").expect("resolves")
}

fn computed() -> (Card, Cautious) {
    let (setup, site) = demo();
    let thresholds = Thresholds::default();
    let prepared = Prepared::new(&setup, &site, &thresholds).expect("in range");
    let sampler = prepared.sampler(&Uncertainty::for_evidence(&setup.airframe.unit.evidence), 1);
    let cautious = sampler.expect("in range").and_then(|sampler| sampler.cautious(64)).expect("flies");
    (prepared.card().expect("in range"), cautious)
}

#[test]
fn prop_no_figure_is_bolder_than_the_card_or_than_what_is_known() {
    let (card, cautious) = computed();
    let flight = flight_of(&card).expect("flies");
    let nothing = Headline::new(&card, None, None, false).expect("flies");
    assert_eq!((nothing.land_by, nothing.turn_back, nothing.flight_time), (None, None, None));
    assert_eq!(nothing.turn_back_at, None);
    for (factor, fresh) in [(1.0, true), (1.0, false), (3.0, true), (3.0, false), (0.5, false)] {
        let mut last = cautious.clone();
        last.flight_time *= factor;
        last.land_by *= factor;
        last.turn_back *= factor;
        let shown = Headline::new(&card, Some(&last), None, fresh).expect("flies");
        // Of before the last change and bolder than the card as it is now: not shown at all.
        let is_shown = fresh || factor <= 1.0;
        assert_eq!(shown.land_by.is_some(), is_shown, "{factor} {fresh}");
        assert!(shown.land_by.is_none_or(|charge| charge <= flight.marks.land_by));
        assert!(shown.turn_back.is_none_or(|charge| charge <= flight.marks.turn_back));
        assert!(shown.flight_time.is_none_or(|time| time <= flight.flight_time));
        assert!(shown.turn_back_at.is_none_or(|at| at <= flight.turn_back_at && at.value >= 0.0));
    }
}

/// First figures stand only where nothing better does, and never above the typical ones.
#[test]
fn prop_the_first_figures_stand_in_until_there_are_sampled_ones() {
    let (card, cautious) = computed();
    let flight = flight_of(&card).expect("flies");
    let first = |share: f64| FirstCautious {
        flight_time: flight.flight_time * share,
        land_by: flight.marks.land_by * share,
        turn_back: flight.marks.turn_back * share,
    };
    for (share, shown_share) in [(0.4, 0.4), (1.7, 1.0)] {
        let first = first(share);
        let mut too_bold = cautious.clone();
        (too_bold.flight_time, too_bold.land_by, too_bold.turn_back) =
            (flight.flight_time * 2.0, flight.marks.land_by * 2.0, flight.marks.turn_back * 2.0);
        for last in [None, Some(&too_bold)] {
            let shown = Headline::new(&card, last, Some(&first), false).expect("flies");
            assert_eq!(shown.land_by, Some(flight.marks.land_by * shown_share));
            assert_eq!(shown.turn_back, Some(flight.marks.turn_back * shown_share));
            assert_eq!(shown.flight_time, Some(flight.flight_time * shown_share));
            assert!(!shown.fresh && shown.why_not_known().is_none());
        }
        let sampled = Headline::new(&card, Some(&cautious), Some(&first), true).expect("flies");
        assert_eq!(sampled, Headline::new(&card, Some(&cautious), None, true).expect("flies"));
    }
    for fresh in [false, true] {
        let none = Headline::new(&card, None, None, fresh).expect("flies");
        assert!(none.land_by.is_none() && none.why_not_known().is_some());
    }
}

/// The demo, as a first visit sees it: the figures at once are there and below the sampled ones.
#[test]
fn the_demo_has_a_first_figure_below_the_sampled_one() {
    let (setup, site) = demo();
    let thresholds = Thresholds::default();
    let prepared = Prepared::new(&setup, &site, &thresholds).expect("in range");
    let sampler = prepared.sampler(&Uncertainty::for_airframe(&setup.airframe), 1).expect("in range");
    let sampler = sampler.expect("flies");
    let (card, last) = (prepared.card().expect("in range"), sampler.cautious(256).expect("flies"));
    let first = sampler.first().expect("in range").expect("a first figure");
    let at_once = Headline::new(&card, None, Some(&first), false).expect("flies");
    let sampled = Headline::new(&card, Some(&last), None, true).expect("flies");
    assert!(at_once.is_complete() && sampled.is_complete());
    assert!(at_once.land_by <= sampled.land_by && at_once.turn_back <= sampled.turn_back);
    assert!(at_once.flight_time <= sampled.flight_time && at_once.turn_back_at <= sampled.turn_back_at);
}

proptest! {
    #[test]
    fn prop_better_is_what_is_more_as_shown(before in 0.0..2000.0_f64, after in 0.0..2000.0_f64, comma in any::<bool>()) {
        let mark = if comma { DecimalMark::Comma } else { DecimalMark::Point };
        let units = Units::metric().with_decimal_mark(mark);
        let [times, charges, ratios] = [
            BeforeAfter::time(Time::new::<second>(before), Time::new::<second>(after)),
            BeforeAfter::charge(
                ElectricCharge::new::<milliampere_hour>(before),
                ElectricCharge::new::<milliampere_hour>(after),
                units,
            ),
            BeforeAfter::thrust_to_weight(
                Ratio::new::<ratio>(before / 500.0),
                Ratio::new::<ratio>(after / 500.0),
                units,
            ),
        ];
        for shown in [times, charges, ratios] {
            prop_assert_eq!(shown.way == Way::Same, shown.before == shown.after, "{:?}", shown);
            if shown.way != Way::Same {
                prop_assert_eq!(shown.way == Way::Better, after > before, "{:?}", shown);
                prop_assert_eq!(shown.way == Way::Better, shown.change.starts_with('+'), "{:?}", shown);
            }
        }
    }
}

/// The reading at land-by is what the card says the crew lands by, whichever meter they look at.
#[test]
fn prop_the_meter_shows_land_by_when_it_is_time_to_land() {
    let (mut setup, site) = demo();
    for place in [MeterPlace::Bus, MeterPlace::String(1)] {
        for error in [-0.1, 0.0, 0.07] {
            setup.supply.meter = Meter { place, scale_error: Ratio::new::<ratio>(error) };
            let card = Prepared::new(&setup, &site, &Thresholds::default()).and_then(|all| all.card());
            let card = card.expect("in range");
            let flight = flight_of(&card).expect("flies");
            let at = flight.samples.iter().rfind(|sample| sample.time <= flight.land_by_at).expect("samples");
            let off =
                meter_reading(at, &setup.supply.meter) / flight.marks.land_by - Ratio::new::<ratio>(1.0);
            // The last sample stands within a step of the moment.
            assert!(off.value.abs() < 0.02, "{place:?} {error}: {off:?}");
        }
    }
}
