//! Flying legs: constant power held for a time, the margin to every limit watched on the way.
//!
//! A margin is positive while the limit holds: charge above the reserve as a share of capacity, cell voltage
//! above the floor in volts. Both fall as charge is used, so their least value says whether a flight is allowed.

use crate::flight::params::{FlightLimit, ReservePolicy};
use crate::profile::{Leg, LegDemand, LegKind};
use crate::supply::joined::{CircuitSolution, Kernel};
use crate::supply::pack_unit::UnitState;
use crate::supply::sharing::Overload;

/// A leg as the bus sees it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Step {
    pub kind: LegKind,
    pub duration_s: f64,
    /// Motors and auxiliaries.
    pub power_w: f64,
}

/// Room to the limit that is nearest.
#[derive(Debug, Clone, Copy)]
pub(super) struct Margin {
    pub left: f64,
    pub limit: FlightLimit,
}

impl Margin {
    pub const FREE: Self = Self { left: f64::INFINITY, limit: FlightLimit::ReserveShare };
    const NO_POWER: Self = Self { left: -1.0, limit: FlightLimit::GreatestPower };

    pub fn or_less(self, other: Self) -> Self {
        if other.left < self.left { other } else { self }
    }
}

/// The policy as plain numbers.
#[derive(Debug, Clone, Copy)]
pub(super) struct Limits {
    pub share: f64,
    pub charge_c: f64,
    pub time_s: f64,
    pub floor_v: f64,
}

impl Limits {
    pub fn of(policy: &ReservePolicy) -> Self {
        Self {
            share: policy.share.value,
            charge_c: policy.charge.map_or(0.0, |charge| charge.value),
            time_s: policy.time.map_or(0.0, |time| time.value),
            floor_v: policy.loaded_cell_floor.value,
        }
    }

    pub fn by_voltage(&self, moment: &CircuitSolution) -> Margin {
        Margin { left: moment.lowest_cell_v - self.floor_v, limit: FlightLimit::LoadedCellFloor }
    }

    pub fn by_charge(&self, kernel: &Kernel, states: &[UnitState]) -> Margin {
        let mut least = Margin::FREE;
        for (unit, state) in kernel.units.iter().zip(states) {
            let left = unit.left_c(state) / unit.capacity_c;
            least = least.or_less(Margin { left: left - self.share, limit: FlightLimit::ReserveShare });
            let kept = self.charge_c / unit.capacity_c;
            least = least.or_less(Margin { left: left - kept, limit: FlightLimit::ReserveCharge });
        }
        least
    }
}

/// The demand with auxiliaries, and how finely it is stepped.
#[derive(Debug, Clone)]
pub(super) struct Course {
    pub kernel: Kernel,
    pub outbound: Vec<Step>,
    pub on_set: Step,
    pub homebound: Vec<Step>,
    pub refinement: f64,
}

impl Course {
    /// From a supply and a demand that have been validated.
    pub fn new(kernel: Kernel, demand: &LegDemand, refinement: f64) -> Self {
        let step = |leg: &Leg| Step {
            kind: leg.kind,
            duration_s: leg.duration.value,
            power_w: leg.power.value + kernel.auxiliary_w,
        };
        let outbound = demand.outbound.iter().map(step).collect();
        let homebound = demand.homebound.iter().map(step).collect();
        let power_w = demand.on_set.value + kernel.auxiliary_w;
        let on_set = Step { kind: LegKind::OnSet, duration_s: 0.0, power_w };
        Self { kernel, outbound, on_set, homebound, refinement }
    }

    /// Step at a power: a hundredth of the time the packs would last, at most 8 s, but no more than 400 steps
    /// to a full discharge.
    pub fn step_s(&self, power_w: f64) -> f64 {
        let lasts_s = self.kernel.rough_energy_j() / power_w.max(1e-3);
        (lasts_s / 100.0).min(8.0).max(lasts_s / 400.0) / self.refinement
    }
}

/// One moment of a segment, handed to who watches.
pub(super) struct Sight<'a> {
    pub time_s: f64,
    pub kind: LegKind,
    pub states: &'a [UnitState],
    pub moment: &'a CircuitSolution,
    /// Least margin up to here.
    pub least: Margin,
}

/// Flies legs one after another.
pub(super) struct Segment<'a> {
    pub course: &'a Course,
    pub limits: Limits,
    pub states: Vec<UnitState>,
    middle: Vec<UnitState>,
    pub time_s: f64,
    /// Least margin so far.
    pub least: Margin,
}

impl<'a> Segment<'a> {
    pub fn new(course: &'a Course, limits: Limits) -> Self {
        let states = course.kernel.start();
        Self { course, limits, middle: states.clone(), states, time_s: 0.0, least: Margin::FREE }
    }

    /// Back to a stored state.
    pub fn rewind(&mut self, states: &[UnitState], time_s: f64, least: Margin) {
        self.states.clear();
        self.states.extend_from_slice(states);
        self.time_s = time_s;
        self.least = least;
    }

    fn note(&mut self, margin: Margin) {
        self.least = self.least.or_less(margin);
    }

    /// Solves the circuit now and notes the voltage margin.
    pub fn look(&mut self, power_w: f64) -> Result<CircuitSolution, Overload> {
        let moment =
            self.course.kernel.moment(&self.states, power_w).inspect_err(|_| self.note(Margin::NO_POWER))?;
        self.note(self.limits.by_voltage(&moment));
        Ok(moment)
    }

    /// One step from `now`, with the margins noted at its end.
    pub fn step(
        &mut self,
        now: &CircuitSolution,
        power_w: f64,
        step_s: f64,
    ) -> Result<CircuitSolution, Overload> {
        self.course
            .kernel
            .advance(&mut self.states, &mut self.middle, now, power_w, step_s)
            .inspect_err(|_| self.note(Margin::NO_POWER))?;
        self.time_s += step_s;
        self.note(self.limits.by_charge(&self.course.kernel, &self.states));
        self.look(power_w)
    }

    /// Flies a step for a time; `watch` sees its start and each step's end and may stop it by `false`.
    pub fn fly(
        &mut self,
        step: &Step,
        duration_s: f64,
        watch: &mut impl FnMut(&Sight) -> bool,
    ) -> Result<(), Overload> {
        if duration_s <= 0.0 {
            return Ok(());
        }
        let steps = steps_of(duration_s, self.course.step_s(step.power_w).min(10.0));
        let mut now = self.look(step.power_w)?;
        for index in 0..=steps {
            if index > 0 {
                now = self.step(&now, step.power_w, duration_s / f64::from(steps))?;
            }
            let sight = Sight {
                time_s: self.time_s,
                kind: step.kind,
                states: &self.states,
                moment: &now,
                least: self.least,
            };
            if !watch(&sight) {
                return Ok(());
            }
        }
        Ok(())
    }
}

/// Equal steps no longer than `step_s`, at most 2,000.
fn steps_of(duration_s: f64, step_s: f64) -> u32 {
    ((duration_s / step_s).ceil() as u32).clamp(1, 2000)
}
