//! Flights: common-practice checks, properties of the whole, and events.

use liftmargin_core::flight::{Flight, FlightLimit, fly};
use uom::si::electric_charge::milliampere_hour;

use crate::rig::{close_by, reserve, two_strings};

/// The flight of the common supply.
fn common() -> Flight {
    fly(&two_strings(), &close_by(4200.0), &reserve(0.2)).expect("in range").expect("flies")
}

// Common practice, no source: land with 20 % left, so a string of 12,000 mAh is down at 9,600 on its own meter
// and two such strings at 19,200 on a bus meter.
#[test]
fn val_common_practice_land_by_is_four_fifths() {
    let flight = common();
    assert_eq!(flight.limit, FlightLimit::ReserveShare);
    for (meter, expected_mah) in flight.marks_by_meter.iter().zip([19_200.0, 9_600.0, 9_600.0]) {
        let land_by = meter.land_by.get::<milliampere_hour>();
        // 5 ms of hover current is 0.1 mAh.
        assert!((land_by - expected_mah).abs() < 0.5, "{land_by} for {expected_mah}");
    }
}
