//! The figure shown at once is never bolder than the sampled one that follows it.

use crate::craft;
use liftmargin_core::card::Prepared;
use liftmargin_core::frame::LayoutKind;
use liftmargin_core::limits::Thresholds;
use liftmargin_core::propulsion::Evidence;
use liftmargin_core::spread::Uncertainty;
use liftmargin_core::units::{Length, Ratio};
use liftmargin_document::card_report::SAMPLES;
use proptest::prelude::*;
use uom::si::length::meter;
use uom::si::ratio::ratio;

fn uncertainty(measured: bool) -> Uncertainty {
    let mean_power_error = Ratio::new::<ratio>(0.01);
    let bench = Evidence::Bench {
        rows: 20,
        mean_power_error,
        with_speed: true,
        greatest_thrust: liftmargin_core::units::Force::new::<uom::si::force::newton>(5000.0),
        other_rotor: None,
    };
    let mut uncertainty = Uncertainty::for_evidence(&bench);
    if !measured {
        uncertainty.power = Ratio::new::<ratio>(0.1);
    }
    uncertainty
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(192))]
    #[test]
    fn prop_the_first_figure_is_never_bolder_than_the_sampled_one(
        (payload_kg, elevation_m, temperature_c) in (0.0..7.0_f64, 0.0..3000.0_f64, -15.0..40.0_f64),
        (wind_m_s, distance_m) in (0.0..7.0_f64, 0.0..1500.0_f64),
        (old, seed, measured) in (1.0..4.0_f64, any::<u64>(), any::<bool>()),
    ) {
        let mut setup = craft::heavy(LayoutKind::CoaxialQuad, payload_kg);
        setup.profile.distance = Length::new::<meter>(distance_m);
        for pack in setup.supply.strings.iter_mut().flat_map(|string| &mut string.packs) {
            pack.cell.resistance *= old;
        }
        let site = craft::site(elevation_m, temperature_c, wind_m_s);
        let thresholds = Thresholds::default();
        let Ok(prepared) = Prepared::new(&setup, &site, &thresholds) else { return Ok(()) };
        let Ok(Some(sampler)) = prepared.sampler(&uncertainty(measured), seed) else { return Ok(()) };
        let Ok(Some(first)) = sampler.first() else { return Ok(()) };
        let last = sampler.cautious(SAMPLES).expect("what flies at once flies in samples");
        prop_assert!(first.flight_time <= last.flight_time, "{first:?} {last:?}");
        prop_assert!(first.land_by <= last.land_by, "{first:?} {last:?}");
        prop_assert!(first.turn_back <= last.turn_back, "{first:?} {last:?}");
    }
}

#[test]
fn a_light_setup_close_by_has_a_first_figure_that_is_of_use() {
    let (setup, site) = (craft::heavy(LayoutKind::CoaxialQuad, 2.0), craft::site(200.0, 20.0, 3.0));
    let thresholds = Thresholds::default();
    let prepared = Prepared::new(&setup, &site, &thresholds).expect("in range");
    let sampler = prepared.sampler(&uncertainty(true), 1).expect("in range").expect("flies");
    let first = sampler.first().expect("in range").expect("flies");
    let last = sampler.cautious(SAMPLES).expect("flies");
    assert!((first.flight_time / last.flight_time).value > 0.5, "{first:?} {last:?}");
}

/// Wind that ends many flights leaves the others little room: once the first land-by came out bolder here than the sampled one.
#[test]
fn regress_where_wind_ends_many_flights_there_is_no_first_figure() {
    let thresholds = Thresholds::default();
    let cases = [
        (306.974_568_595_402_56, 3.653_476_138_134_776, 9_566_290_516_488_616_510),
        (922.594_679_938_279_1, 3.768_425_227_627_827, 5_964_234_258_471_618_122),
    ];
    for (distance_m, wind_m_s, seed) in cases {
        let mut setup = craft::heavy(LayoutKind::CoaxialQuad, 0.0);
        setup.profile.distance = Length::new::<meter>(distance_m);
        let site = craft::site(0.0, 0.0, wind_m_s);
        let prepared = Prepared::new(&setup, &site, &thresholds).expect("in range");
        let sampler = prepared.sampler(&uncertainty(false), seed).expect("in range").expect("flies");
        assert_eq!(sampler.first(), Ok(None));
        assert!(sampler.cautious(SAMPLES).is_some_and(|last| last.land_by.value > 0.0));
    }
}
