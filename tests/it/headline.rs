//! What decides what is shown: never a bolder figure, better and worse from figures, the meter on board.

use liftmargin_core::air::Site;
use liftmargin_core::card::{Card, Cautious, Prepared, Setup};
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
    let nothing = Headline::new(&card, None, false).expect("flies");
    assert_eq!((nothing.land_by, nothing.turn_back, nothing.flight_time), (None, None, None));
    assert_eq!(nothing.turn_back_at, None);
    for (factor, fresh) in [(1.0, true), (1.0, false), (3.0, true), (3.0, false), (0.5, false)] {
        let mut last = cautious.clone();
        last.flight_time *= factor;
        last.land_by *= factor;
        last.turn_back *= factor;
        let shown = Headline::new(&card, Some(&last), fresh).expect("flies");
        // Of before the last change and bolder than the card as it is now: not shown at all.
        let is_shown = fresh || factor <= 1.0;
        assert_eq!(shown.land_by.is_some(), is_shown, "{factor} {fresh}");
        assert!(shown.land_by.is_none_or(|charge| charge <= flight.marks.land_by));
        assert!(shown.turn_back.is_none_or(|charge| charge <= flight.marks.turn_back));
        assert!(shown.flight_time.is_none_or(|time| time <= flight.flight_time));
        assert!(shown.turn_back_at.is_none_or(|at| at <= flight.turn_back_at && at.value >= 0.0));
    }
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
