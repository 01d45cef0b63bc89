//! The longest work on set after which the way home still ends within every limit.
//!
//! The work on set is flown once, as far as it goes by itself, with each step's state stored. From a stored state
//! the way home is flown again for a guess of the time on set; its least margin falls with that time, so the
//! guess is closed in by false position (Illinois) with bisection mixed in, to 5 ms or two millionths of the margin's
//! unit, always on the allowed side.

use crate::flight::breach;
use crate::flight::params::{FlightLimit, NoFlight};
use crate::flight::segment::{Course, Limits, Margin, Segment, Sight, Step};
use crate::supply::pack_unit::UnitState;

/// Time on set that is close enough, s.
const CLOSE_S: f64 = 0.005;
/// Margin that counts as just reached.
const CLOSE_TO_LIMIT: f64 = 2e-6;
const MOST_TRIALS: u32 = 80;
/// More stored steps than any discharge takes (`Course::step_s`, refinement 16).
const MOST_STEPS: usize = 16_000;

/// A search and its stored states.
pub(super) struct Search<'a> {
    pub segment: Segment<'a>,
    /// States on set, one block of units a step; the first is the arrival.
    trajectory: Vec<UnitState>,
    step_s: f64,
    /// Motor start to arrival on set.
    pub out_s: f64,
    /// End of the last way home, without the reserve kept as time.
    pub down: Vec<UnitState>,
    pub down_s: f64,
    /// Least margin without any time on set.
    at_arrival: Margin,
}

/// The end of a search.
#[derive(Debug, Clone, Copy)]
pub(super) struct Found {
    pub on_set_s: f64,
    pub limit: FlightLimit,
}

impl<'a> Search<'a> {
    /// Flies out and, with no time on set, home.
    pub fn new(course: &'a Course, limits: Limits) -> Result<Self, NoFlight> {
        let mut segment = Segment::new(course, limits);
        segment.least = limits.by_charge(&course.kernel, &segment.states);
        for step in &course.outbound {
            let flown = segment.fly(step, step.duration_s, &mut |sight| sight.least.left >= 0.0);
            if flown.is_err() || segment.least.left < 0.0 {
                return Err(breach::first(course, limits));
            }
        }
        let trajectory = segment.states.clone();
        let step_s = course.step_s(course.on_set.power_w);
        let (down, out_s) = (trajectory.clone(), segment.time_s);
        let mut search =
            Self { segment, trajectory, step_s, out_s, down, down_s: out_s, at_arrival: Margin::FREE };
        let margin = search.home(0.0, &mut |_| true);
        if margin.left < 0.0 {
            return Err(match margin.limit {
                FlightLimit::ReserveTime => breach::too_little(FlightLimit::ReserveTime, search.down_s),
                _ => breach::first(course, limits),
            });
        }
        search.at_arrival = margin;
        Ok(search)
    }

    /// Stored state at or before a time on set, and the time left from it.
    fn stored(&self, on_set_s: f64) -> (&[UnitState], f64) {
        let units = self.segment.course.kernel.units.len();
        let last = self.trajectory.len() / units.max(1) - 1;
        let index = ((on_set_s / self.step_s).max(0.0) as usize).min(last);
        let states = self.trajectory.get(index * units..(index + 1) * units).unwrap_or(&self.trajectory);
        (states, on_set_s - index as f64 * self.step_s)
    }

    /// Puts the segment to the moment of turning back after a time on set, the on-set load still on.
    pub fn turn_back(&mut self, on_set_s: f64) -> Margin {
        let (states, left_s) = self.stored(on_set_s);
        let states = states.to_vec();
        self.segment.rewind(&states, self.out_s + on_set_s - left_s, Margin::FREE);
        let power_w = self.segment.course.on_set.power_w;
        if let Ok(now) = self.segment.look(power_w)
            && left_s > 1e-9
        {
            // A failure is in the margin.
            let _ = self.segment.step(&now, power_w, left_s);
        }
        self.segment.least
    }

    /// Flies home after a time on set; the least margin from turning back to the end.
    pub fn home(&mut self, on_set_s: f64, watch: &mut impl FnMut(&Sight) -> bool) -> Margin {
        self.turn_back(on_set_s);
        let course = self.segment.course;
        for step in &course.homebound {
            if self.segment.fly(step, step.duration_s, watch).is_err() {
                return self.segment.least;
            }
        }
        self.down.clone_from(&self.segment.states);
        self.down_s = self.segment.time_s;
        self.segment.least.or_less(self.reserve_time())
    }

    /// After touchdown: whether charge for the reserve time at the power on set is left.
    fn reserve_time(&mut self) -> Margin {
        let limits = self.segment.limits;
        if limits.time_s <= 0.0 {
            return Margin::FREE;
        }
        let least = self.segment.least;
        let course = self.segment.course;
        let flown = self.segment.fly(&course.on_set, limits.time_s, &mut |_| true);
        let empty = Limits { share: 0.0, charge_c: 0.0, ..limits };
        let left = empty.by_charge(&course.kernel, &self.segment.states).left;
        self.segment.least = least;
        Margin { left: if flown.is_ok() { left } else { -1.0 }, limit: FlightLimit::ReserveTime }
    }

    /// Flies the work on set as far as it goes by itself, storing each step; returns how long.
    fn fill_tape(&mut self) -> f64 {
        let power_w = self.segment.course.on_set.power_w;
        let arrival = self.stored(0.0).0.to_vec();
        self.segment.rewind(&arrival, self.out_s, Margin::FREE);
        let mut steps = 0;
        let mut now = self.segment.look(power_w);
        while let Ok(moment) = now
            && self.segment.least.left >= 0.0
            && steps < MOST_STEPS
        {
            now = self.segment.step(&moment, power_w, self.step_s);
            steps += 1;
            if now.is_ok() {
                self.trajectory.extend_from_slice(&self.segment.states);
            }
        }
        steps as f64 * self.step_s
    }

    /// The longest time on set; leaves its end in `down`.
    pub fn longest(&mut self) -> Found {
        let mut above = (0.0, self.at_arrival);
        let mut down = (self.down.clone(), self.down_s);
        let end_s = self.fill_tape();
        let mut below = (end_s, self.home(end_s, &mut |_| true));
        // Aims inside the tolerance, so that what is found lies on the allowed side. The weights of false position:
        // halving that of an end which stays keeps both ends moving (Illinois).
        let aim = 0.5 * CLOSE_TO_LIMIT;
        let (mut high, mut low) = (above.1.left - aim, below.1.left - aim);
        let mut was_allowed = None;
        for trial in 0..MOST_TRIALS {
            if below.0 - above.0 < CLOSE_S || above.1.left < CLOSE_TO_LIMIT || below.1.left >= 0.0 {
                break;
            }
            let share = if trial % 8 == 7 { 0.5 } else { (high / (high - low)).clamp(1e-6, 1.0 - 1e-6) };
            let guess_s = above.0 + share * (below.0 - above.0);
            let margin = self.home(guess_s, &mut |_| true);
            let is_allowed = margin.left >= 0.0;
            if is_allowed {
                above = (guess_s, margin);
                down = (self.down.clone(), self.down_s);
                high = margin.left - aim;
                if was_allowed == Some(true) {
                    low /= 2.0;
                }
            } else {
                below = (guess_s, margin);
                low = margin.left - aim;
                if was_allowed == Some(false) {
                    high /= 2.0;
                }
            }
            was_allowed = Some(is_allowed);
        }
        (self.down, self.down_s) = down;
        let near = above.1.left < 1e-3;
        Found { on_set_s: above.0, limit: if near { above.1.limit } else { below.1.limit } }
    }

    /// Flies the whole again for who watches: out, on set from the stored states, home.
    pub fn replay(&mut self, on_set_s: f64, watch: &mut impl FnMut(&Sight) -> bool) {
        let course = self.segment.course;
        let mut out = Segment::new(course, self.segment.limits);
        for step in &course.outbound {
            // It flew in the search, so it flies here.
            let _ = out.fly(step, step.duration_s, watch);
        }
        let units = course.kernel.units.len().max(1);
        let mut time_s = self.out_s;
        for states in self.trajectory.chunks_exact(units) {
            if time_s - self.out_s > on_set_s {
                break;
            }
            self.sight(states, time_s, watch);
            time_s += self.step_s;
        }
        self.turn_back(on_set_s);
        self.sight(&self.segment.states, self.segment.time_s, watch);
        self.home(on_set_s, watch);
    }

    fn sight(&self, states: &[UnitState], time_s: f64, watch: &mut impl FnMut(&Sight) -> bool) {
        let Step { kind, power_w, .. } = self.segment.course.on_set;
        if let Ok(moment) = self.segment.course.kernel.moment(states, power_w) {
            watch(&Sight { time_s, kind, states, moment: &moment, least: Margin::FREE });
        }
    }
}
