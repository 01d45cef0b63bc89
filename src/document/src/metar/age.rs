//! How old a report is.

use liftmargin_core::units::Time;
use uom::si::time::second;

use super::ObservedAt;

const DAY_S: i64 = 86_400;
/// A clock may be wrong by this and the report still be of today.
const AHEAD_S: i64 = 3_600;
/// A report names the day of a month and no month: within two of them the day stands again.
const DAYS_BACK: i64 = 62;

/// Age of a report at `now`, seconds since 1970 of universal time: its latest moment that is not in the future.
/// None for a day that none of the last two months has.
pub fn age(observed: ObservedAt, now_s: i64) -> Option<Time> {
    let today = now_s.div_euclid(DAY_S);
    let clock_s = i64::from(observed.hour) * 3_600 + i64::from(observed.minute) * 60;
    // From tomorrow back: where the clock is slow, a report of just after midnight is no month old.
    let moments =
        (-1..DAYS_BACK).map(|back| today - back).filter(|day| day_of_month(*day) == Some(observed.day));
    let ages = moments.map(|day| now_s - (day * DAY_S + clock_s));
    ages.into_iter().find(|age_s| *age_s >= -AHEAD_S).map(|age_s| Time::new::<second>(age_s.max(0) as f64))
}

fn day_of_month(day: i64) -> Option<u8> {
    time::OffsetDateTime::from_unix_timestamp(day.checked_mul(DAY_S)?).ok().map(time::OffsetDateTime::day)
}
