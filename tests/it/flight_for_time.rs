//! Flights of a known length, and the factor on power that explains what a meter counted.

use liftmargin_core::correction::{power_factor, reading_spread};
use liftmargin_core::flight::{TimedFlight, fly};
use liftmargin_core::profile::{LegDemand, LegKind};
use liftmargin_core::supply::{Meter, MeterPlace, Supply};
use liftmargin_core::units::{ElectricCharge, Ratio, Time};
use proptest::prelude::*;
use uom::si::electric_charge::milliampere_hour;
use uom::si::ratio::ratio;
use uom::si::time::{minute, second};

use crate::rig::{close_by, reserve, two_strings};
use crate::table::assert_close;

fn share(value: f64) -> Ratio {
    Ratio::new::<ratio>(value)
}

fn without_go_around(hover_w: f64) -> LegDemand {
    let mut demand = close_by(hover_w);
    demand.homebound.retain(|leg| leg.kind != LegKind::GoAround);
    demand
}

fn on_string(scale_error: f64) -> Supply {
    Supply { meter: Meter { place: MeterPlace::String(0), scale_error: share(scale_error) }, ..two_strings() }
}

/// The longest flight, flown for its own time, ends at its own land-by mark, whichever meter is on board.
#[test]
fn regress_a_flights_own_time_uses_its_own_land_by() {
    for supply in [two_strings(), on_string(0.04)] {
        let demand = without_go_around(4200.0);
        let flight = fly(&supply, &demand, &reserve(0.2)).unwrap().unwrap();
        let timed = TimedFlight::new(&supply, &demand).unwrap();
        let flown = timed.fly(flight.flight_time, share(1.0)).unwrap().expect("flies");
        // Steps on set are cut otherwise.
        assert_close(flown.used.value, flight.marks.land_by.value, 1e-4, "used");
        assert_close(flown.bus_voltage.value, flight.bus_voltage_at_land_by.value, 1e-3, "voltage");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    /// What is flown at a factor is found to be flown at that factor.
    #[test]
    fn prop_the_factor_that_was_flown_is_found(
        factor in 0.6..1.5f64, minutes in 0.5..7.0f64, scale_error in -0.1..0.1f64,
    ) {
        let supply = on_string(scale_error);
        let timed = TimedFlight::new(&supply, &close_by(4200.0)).unwrap();
        let airborne = Time::new::<minute>(minutes);
        if let Some(flown) = timed.fly(airborne, share(factor)).unwrap() {
            let found = power_factor(&timed, airborne, flown.used).unwrap().expect("found");
            prop_assert!((found.value / factor - 1.0).abs() < 1e-4, "{found:?} for {factor}");
        }
    }

    #[test]
    fn prop_longer_and_harder_uses_more(minutes in 0.2..6.0f64, more in 0.01..1.0f64, factor in 0.7..1.2f64) {
        let timed = TimedFlight::new(&two_strings(), &close_by(3800.0)).unwrap();
        let used = |minutes: f64, factor: f64| {
            timed.fly(Time::new::<minute>(minutes), share(factor)).unwrap().map(|flown| flown.used.value)
        };
        if let (Some(short), Some(long), Some(hard)) =
            (used(minutes, factor), used(minutes + more, factor), used(minutes, factor + 0.1))
        {
            prop_assert!(short < long && short < hard);
        }
    }
}

#[test]
fn regress_what_no_pack_gives_has_no_factor() {
    let timed = TimedFlight::new(&two_strings(), &close_by(4200.0)).unwrap();
    let counted = ElectricCharge::new::<milliampere_hour>;
    let minutes = Time::new::<minute>;
    assert_eq!(power_factor(&timed, minutes(5.0), counted(26_000.0)), Ok(None));
    let refused = power_factor(&timed, minutes(5.0), counted(200.0)).expect_err("no such flight");
    assert_eq!(refused.field(), "power_factor");
    let refused = timed.fly(Time::new::<second>(f64::NAN), share(1.0)).expect_err("no time");
    assert_eq!(refused.field(), "leg_duration");
}

/// 25 mAh of 10,000 and 5 s of 500: 0.25 % and 1 %, 1.03 % together.
#[test]
fn val_reading_spread_by_hand() {
    let spread =
        reading_spread(Time::new::<second>(500.0), ElectricCharge::new::<milliampere_hour>(10_000.0));
    assert_close(spread.value, 0.010_308, 1e-4, "spread");
}
