//! What the readings so far mean for turning back and landing.
//!
//! Formula   land by L = (L_0 − (f − 1) L') min(c, 1); turn back L − f H; at the moment t at which q(t) reaches it on set;
//!           on the ground at t + T_H, or, once that moment is past, when L is reached at the rate of the way home;
//!           cautious: L less 1.2816 σ_c L, neither mark ever above the card's, H at f + 1.2816 σ_f, q(t) + 1.2816 σ_q(t)
//! Units     C, s
//! Source    as `state`; 1.2816: one in ten is worse, table of the normal distribution
//! Valid     until touchdown
//! Checked   as `tracker`
//! Assumes   work on set goes on as planned until turning back; packs that look better than planned are not believed

use super::params::{PlannedCourse, WayHome};
use super::state::FilterState;
use super::tracker::Tracker;
use crate::input_error::InputError;
use crate::units::{ElectricCharge, Ratio, Time};
use uom::si::electric_charge::coulomb;
use uom::si::ratio::ratio;
use uom::si::time::second;

const ONE_IN_TEN: f64 = 1.2816;
/// Longest that is looked ahead: four hours.
const HORIZON_S: f64 = 14_400.0;

/// When to turn back and to be down.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AirborneMarks {
    /// Shown by the meter when the way home must begin.
    pub turn_back: ElectricCharge,
    /// Shown by the meter when the aircraft must be down.
    pub land_by: ElectricCharge,
    /// Since lift-off.
    pub turn_back_at: Time,
    /// Since lift-off.
    pub land_by_at: Time,
}

/// Where the flight stands at a moment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Projection {
    /// What the meter should show now.
    pub used: ElectricCharge,
    /// One standard deviation of it.
    pub used_spread: ElectricCharge,
    /// What the meter shows less what was used: below zero after a reset.
    pub offset: ElectricCharge,
    /// Consumption over the plan's.
    pub rate: Ratio,
    /// One standard deviation of it.
    pub rate_spread: Ratio,
    /// Capacity over the plan's.
    pub capacity: Ratio,
    /// One standard deviation of it.
    pub capacity_spread: Ratio,
    /// Used, over what the plan had used by now; negative where less.
    pub over_plan: ElectricCharge,
    /// As planned, before any reading.
    pub planned: AirborneMarks,
    /// Half of such flights have longer.
    pub middle: AirborneMarks,
    /// One such flight in ten has less: to fly by.
    pub cautious: AirborneMarks,
}

impl Tracker<'_> {
    /// Where the flight stands at a moment after the last reading, with another way home where one is given.
    ///
    /// # Errors
    /// `InputError` for a time or a way home outside its range.
    pub fn project(&self, now: Time, way_home: Option<WayHome>) -> Result<Projection, InputError> {
        let latest = if way_home.is_none() { self.course.cautious.turn_back } else { self.course.capacity };
        let way_home = way_home.unwrap_or(self.course.way_home);
        PlannedCourse::WAY_HOME.check(way_home.time.value)?;
        PlannedCourse::CHARGE.check(way_home.used.value)?;
        let now_s = now.get::<second>().clamp(self.time_s, self.time_s + HORIZON_S);
        if !now_s.is_finite() {
            return Err(InputError::OutOfRange { range: &PlannedCourse::TIME_STEP, value: now_s });
        }
        let state = self.carried(now_s);
        let charge = |value_c: f64| ElectricCharge::new::<coulomb>(value_c);
        let share = |value: f64| Ratio::new::<ratio>(value);
        Ok(Projection {
            used: charge(state.mean[0] + self.offset_c),
            used_spread: charge(state.deviation(0)),
            offset: charge(self.offset_c),
            rate: share(state.mean[1]),
            rate_spread: share(state.deviation(1)),
            capacity: share(state.mean[2]),
            capacity_spread: share(state.deviation(2)),
            over_plan: charge(state.mean[0] - self.planned_c(now_s)),
            planned: self.as_planned(),
            middle: self.marks(now_s, &state, &way_home, None),
            cautious: self.marks(now_s, &state, &way_home, Some(latest)),
        })
    }

    fn as_planned(&self) -> AirborneMarks {
        let course = self.course;
        let turn_back_at = course.points.last().map_or_else(Time::default, |point| point.time);
        AirborneMarks {
            turn_back: course.land_by - course.way_home.used,
            land_by: course.land_by,
            turn_back_at,
            land_by_at: turn_back_at + course.way_home.time,
        }
    }

    /// In the middle, or cautious with a charge that turning back is not later than.
    fn marks(
        &self,
        now_s: f64,
        state: &FilterState,
        home: &WayHome,
        cautious: Option<ElectricCharge>,
    ) -> AirborneMarks {
        let course = self.course;
        let deviations = if cautious.is_some() { ONE_IN_TEN } else { 0.0 };
        let [_, rate, capacity] = state.mean;
        let middle_c =
            ((course.land_by.value - (rate - 1.0) * course.land_by_falls.value) * capacity.min(1.0)).max(0.0);
        let mut land_by_c = middle_c - deviations * state.deviation(2) * course.land_by.value;
        if cautious.is_some() {
            land_by_c = land_by_c.min(course.cautious.land_by.value);
        }
        let home_c = (rate + deviations * state.deviation(1)).max(0.0) * home.used.value;
        let latest_c = cautious.map_or(f64::INFINITY, |latest| latest.value);
        let turn_back_c = (land_by_c - home_c).min(latest_c);
        let turn_back_s = self.reached(now_s, turn_back_c, deviations);
        let land_by_s = if turn_back_s > now_s {
            turn_back_s + home.time.value
        } else {
            let left_c = land_by_c - state.mean[0] - deviations * state.deviation(0);
            now_s + left_c / home_c.max(f64::MIN_POSITIVE) * home.time.value
        };
        let charge = |value_c: f64| ElectricCharge::new::<coulomb>((value_c + self.offset_c).max(0.0));
        let horizon = |at_s: f64| Time::new::<second>(at_s.clamp(now_s - HORIZON_S, now_s + 2.0 * HORIZON_S));
        AirborneMarks {
            turn_back: charge(turn_back_c),
            land_by: charge(land_by_c),
            turn_back_at: horizon(turn_back_s),
            land_by_at: horizon(land_by_s),
        }
    }

    /// When the charge used reaches a mark: by bisection; the end of what is looked ahead where it does not; as long ago as
    /// the rate of now says where it is past.
    fn reached(&self, now_s: f64, mark_c: f64, deviations: f64) -> f64 {
        let at = |time_s: f64| {
            let state = self.carried(time_s);
            state.mean[0] + deviations * state.deviation(0) - mark_c
        };
        let over_c = at(now_s);
        if over_c >= 0.0 {
            let rate = self.carried(now_s).mean[1] * self.planned_rate(now_s);
            return now_s - over_c / rate.max(f64::MIN_POSITIVE);
        }
        let (mut low, mut high) = (now_s, now_s + HORIZON_S);
        if at(high) < 0.0 {
            return high;
        }
        // To a tenth of a second.
        for _ in 0..18 {
            let middle = 0.5 * (low + high);
            if at(middle) < 0.0 { low = middle } else { high = middle }
        }
        low
    }
}
