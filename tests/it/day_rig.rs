//! Days for tests: plain numbers in, a plan out.

use liftmargin_core::day::{ChargeStep, DayFlight, DayPlan, SetKind};
use liftmargin_core::units::{Energy, Power, Time};
use uom::si::energy::joule;
use uom::si::power::watt;
use uom::si::time::second;

pub fn seconds(value: i64) -> Time {
    Time::new::<second>(value as f64)
}

/// Whole seconds of a time.
pub fn whole(time: Time) -> i64 {
    time.get::<second>().round() as i64
}

/// Steps of a charge: seconds and watts.
pub fn steps(steps: &[(i64, f64)]) -> Vec<ChargeStep> {
    let step = |&(duration_s, power_w): &(i64, f64)| ChargeStep {
        duration: seconds(duration_s),
        power: Power::new::<watt>(power_w),
    };
    steps.iter().map(step).collect()
}

/// A flight of a kind of set.
pub fn flight(set: usize, earliest_s: i64, duration_s: i64, charge: &[(i64, f64)]) -> DayFlight {
    let energy_j = charge.iter().map(|(duration_s, power_w)| *duration_s as f64 * power_w).sum();
    DayFlight {
        set,
        earliest: seconds(earliest_s),
        duration: seconds(duration_s),
        charge: steps(charge),
        charge_energy: Energy::new::<joule>(energy_j),
    }
}

/// From eight to six, ten minutes' turn-round, twenty minutes' cooling, no warming, no limit, so many sets of one kind.
pub fn plain(sets: u32, chargers: u32, flights: Vec<DayFlight>) -> DayPlan {
    DayPlan {
        start: seconds(8 * 3600),
        wrap: seconds(18 * 3600),
        turn_round: seconds(600),
        cool_down: seconds(1200),
        warm_up: seconds(0),
        sets: vec![SetKind { count: sets, available_from: seconds(0) }],
        chargers,
        supply_limit: None,
        flights,
    }
}
