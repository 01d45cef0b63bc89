//! One string lost in flight: what the others must carry, and whether they bring the aircraft down.
//!
//! Formula: the longest flight is flown to the moment, the string taken out, and the way home flown on the rest
//! (without go-around; after a loss at take-off only the landing). The charge reserve may now be used, the loaded
//! cell floor must still hold. Units: SI. Assumes: the string is gone at once and takes no other with it; the
//! floor is the policy's; C rating is the maker's continuous one.

use uom::si::electric_charge::coulomb;
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::ratio::ratio;
use uom::si::time::second;

use crate::flight::breach;
use crate::flight::longest::{FlightTask, LongestFlight};
use crate::flight::params::{FlightLimit, FlightSettings, NoFlight, ReservePolicy, Sample};
use crate::flight::record::sample;
use crate::flight::search::Search;
use crate::flight::segment::{Course, Limits, Margin, Segment, Step};
use crate::input_error::InputError;
use crate::input_range::{InputRange, Kind};
use crate::profile::{LegDemand, LegKind};
use crate::supply::joined::{CircuitSolution, Kernel};
use crate::supply::pack_unit::UnitState;
use crate::supply::sharing::Overload;
use crate::supply::{Supply, SupplyFault};
use crate::units::{ElectricCharge, ElectricCurrent, ElectricPotential, Ratio, Time};

/// Longest time the power of the moment is held for, s.
const MOST_HOLD_S: f64 = 7200.0;

/// When a string is lost.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum LossMoment {
    /// At lift-off, warm-up done; the aircraft lands at once.
    TakeOff,
    /// After this share of the time on set.
    OnSetShare(Ratio),
    /// When turning back.
    TurnBack,
}

impl LossMoment {
    /// 0 to 1.
    pub const ON_SET_SHARE: InputRange = InputRange::new("loss_on_set_share", Kind::Share, 0.0, 1.0);
}

/// What the rest fails by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FirstFailure {
    /// There is no other string.
    NoStringLeft,
    /// More power is asked than the rest can give.
    VoltageCollapse,
    /// The loaded cell voltage falls below the floor.
    LoadedCellFloor,
    /// A pack's current exceeds the maker's continuous rating.
    CRating,
    /// A pack is empty.
    Charge,
}

/// Whether the rest brings the aircraft down.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LossOutcome {
    /// Yes, within floor and rating.
    CarriesAlone,
    /// No, or not within the limits; this comes first.
    FailsFirst(FirstFailure),
}

/// What one remaining string carries.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StringLoad {
    /// The string, from 0, as numbered in the supply.
    pub string: usize,
    /// Its greatest current from the loss to touchdown.
    pub current: ElectricCurrent,
    /// That over its weakest pack's capacity when new, per hour.
    pub c_rate: Ratio,
    /// Charge left in it at touchdown, above empty; zero when it is empty before.
    pub left_at_touchdown: ElectricCharge,
}

/// One string lost.
#[derive(Debug, Clone, PartialEq)]
pub struct StringLost {
    /// When, from motor start.
    pub at: Time,
    /// What each remaining string carries; empty where the supply collapses at once.
    pub loads: Vec<StringLoad>,
    /// Loaded cell voltage just before.
    pub cell_voltage_before: Option<ElectricPotential>,
    /// Loaded cell voltage at once after; none where the supply collapses.
    pub cell_voltage_at_once: Option<ElectricPotential>,
    /// Lowest loaded cell voltage from the loss to touchdown.
    pub cell_voltage_lowest: Option<ElectricPotential>,
    /// Whether it stays above the floor to touchdown.
    pub stays_above_floor: bool,
    /// Whether every pack stays within its continuous rating.
    pub within_c_rating: bool,
    /// How long the power of that moment can be held before floor, collapse or empty: it must be down by then.
    pub down_within: Time,
    /// How long the way down takes.
    pub way_down: Time,
    /// The verdict.
    pub outcome: LossOutcome,
    /// The way home on the remaining strings, numbered without the lost one.
    pub samples: Vec<Sample>,
}

/// The flight with one string lost at a moment of the longest flight.
///
/// # Errors
/// As `fly_with`; `SupplyFault::NoSuchString` for a string that is not there; the share on set outside 0 to 1.
pub fn string_lost(
    supply: &Supply,
    demand: &LegDemand,
    policy: &ReservePolicy,
    settings: &FlightSettings,
    lost: usize,
    when: LossMoment,
) -> Result<Result<StringLost, NoFlight>, InputError> {
    let task = FlightTask::new(supply, demand, policy, settings)?;
    task.longest().map_or_else(|none| Ok(Err(none)), |mut longest| longest.string_lost(lost, when).map(Ok))
}

impl LongestFlight<'_> {
    /// One string lost at a moment of it.
    ///
    /// # Errors
    /// As the function `string_lost`.
    pub fn string_lost(&mut self, lost: usize, when: LossMoment) -> Result<StringLost, InputError> {
        let course = self.search.segment.course;
        let strings = course.kernel.strings();
        if lost >= strings {
            return Err(InputError::Supply(SupplyFault::NoSuchString { string: lost, strings }));
        }
        if let LossMoment::OnSetShare(share) = when {
            LossMoment::ON_SET_SHARE.check(share.value)?;
        }
        let scene = Scene::at(&mut self.search, self.found.on_set_s, when);
        Ok(on_the_rest(course, self.search.segment.limits, lost, &scene))
    }
}

/// The moment of the loss.
struct Scene {
    states: Vec<UnitState>,
    time_s: f64,
    /// What is being flown.
    power_w: f64,
    way_down: Vec<Step>,
}

impl Scene {
    fn at(search: &mut Search, longest_on_set_s: f64, when: LossMoment) -> Self {
        let course = search.segment.course;
        let on_set_s = match when {
            LossMoment::TakeOff => return Self::at_take_off(search),
            LossMoment::OnSetShare(share) => longest_on_set_s * share.value,
            LossMoment::TurnBack => longest_on_set_s,
        };
        search.turn_back(on_set_s);
        let home = course.homebound.iter().filter(|step| step.kind != LegKind::GoAround);
        Self {
            states: search.segment.states.clone(),
            time_s: search.segment.time_s,
            power_w: course.on_set.power_w,
            way_down: home.copied().collect(),
        }
    }

    fn at_take_off(search: &Search) -> Self {
        let course = search.segment.course;
        let mut segment = Segment::new(course, search.segment.limits);
        for step in course.outbound.iter().take_while(|step| step.kind == LegKind::WarmUp) {
            // It flew in the search, so it flies here.
            let _ = segment.fly(step, step.duration_s, &mut |_| true);
        }
        let first = course.outbound.iter().find(|step| step.kind != LegKind::WarmUp);
        let landing = course.homebound.iter().filter(|step| step.kind == LegKind::Landing);
        Self {
            time_s: segment.time_s,
            power_w: first.unwrap_or(&course.on_set).power_w,
            way_down: landing.copied().collect(),
            states: segment.states,
        }
    }
}

fn on_the_rest(course: &Course, limits: Limits, lost: usize, scene: &Scene) -> StringLost {
    let (kernel, states) = course.kernel.without(lost, &scene.states);
    let before = course.kernel.moment(&scene.states, scene.power_w).ok();
    let at_once = if kernel.strings() > 0 { kernel.moment(&states, scene.power_w).ok() } else { None };
    let rest = Course { kernel, ..course.clone() };
    let limits = Limits { share: 0.0, charge_c: 0.0, time_s: 0.0, ..limits };
    let down_within_s = if rest.kernel.strings() > 0 {
        let mut segment = Segment::new(&rest, limits);
        segment.rewind(&states, scene.time_s, Margin::FREE);
        breach::holds(&mut segment, scene.power_w, MOST_HOLD_S).0
    } else {
        0.0
    };
    let down = Descent::fly(&rest, limits, &states, scene);
    let volts = |moment: &CircuitSolution| ElectricPotential::new::<volt>(moment.lowest_cell_v);
    StringLost {
        at: Time::new::<second>(scene.time_s),
        loads: down.loads(&rest.kernel, lost),
        cell_voltage_before: before.as_ref().map(volts),
        cell_voltage_at_once: at_once.as_ref().map(volts),
        cell_voltage_lowest: down.lowest_v.map(ElectricPotential::new::<volt>),
        stays_above_floor: !down.collapsed
            && down.lowest_v.is_some_and(|lowest_v| lowest_v >= limits.floor_v),
        within_c_rating: !down.collapsed && !down.over_rating,
        down_within: Time::new::<second>(down_within_s),
        way_down: Time::new::<second>(scene.way_down.iter().map(|step| step.duration_s).sum()),
        outcome: down.first.map_or(LossOutcome::CarriesAlone, LossOutcome::FailsFirst),
        samples: down.samples,
    }
}

/// The way down on the rest.
#[derive(Default)]
struct Descent {
    samples: Vec<Sample>,
    end: Vec<UnitState>,
    greatest_a: Vec<f64>,
    lowest_v: Option<f64>,
    over_rating: bool,
    collapsed: bool,
    first: Option<FirstFailure>,
}

impl Descent {
    fn fly(rest: &Course, limits: Limits, states: &[UnitState], scene: &Scene) -> Self {
        let mut down = Self { end: states.to_vec(), ..Self::default() };
        if rest.kernel.strings() == 0 {
            down.fail(FirstFailure::NoStringLeft);
            down.collapsed = true;
            return down;
        }
        down.greatest_a = vec![0.0; rest.kernel.strings()];
        let mut segment = Segment::new(rest, limits);
        segment.rewind(states, scene.time_s, Margin::FREE);
        // The load of the moment comes first, then the way home.
        let moment = Step { kind: LegKind::OnSet, duration_s: 1e-3, power_w: scene.power_w };
        for step in core::iter::once(&moment).chain(&scene.way_down) {
            if down.fly_step(&mut segment, step).is_err() {
                down.fail(FirstFailure::VoltageCollapse);
                down.collapsed = true;
                break;
            }
        }
        if down.samples.is_empty() {
            down.greatest_a.clear();
        }
        down.end = segment.states;
        down
    }

    fn fly_step(&mut self, segment: &mut Segment, step: &Step) -> Result<(), Overload> {
        let kernel = &segment.course.kernel;
        segment.fly(step, step.duration_s, &mut |sight| {
            let lowest_v = self.lowest_v.unwrap_or(f64::INFINITY).min(sight.moment.lowest_cell_v);
            self.lowest_v = Some(lowest_v);
            for (string, greatest_a) in self.greatest_a.iter_mut().enumerate() {
                *greatest_a = greatest_a.max(kernel.string_a(string, sight.moment));
            }
            if sight.least.left < 0.0 {
                self.fail(match sight.least.limit {
                    FlightLimit::LoadedCellFloor => FirstFailure::LoadedCellFloor,
                    FlightLimit::GreatestPower => FirstFailure::VoltageCollapse,
                    FlightLimit::ReserveShare | FlightLimit::ReserveTime | FlightLimit::ReserveCharge => {
                        FirstFailure::Charge
                    }
                });
            }
            if kernel.units.iter().any(|unit| sight.moment.current_a(unit) > unit.rated_a) {
                self.over_rating = true;
                self.fail(FirstFailure::CRating);
            }
            self.samples.push(sample(kernel, sight));
            true
        })
    }

    fn fail(&mut self, by: FirstFailure) {
        self.first = self.first.or(Some(by));
    }

    fn loads(&self, kernel: &Kernel, lost: usize) -> Vec<StringLoad> {
        let load = |(string, &current_a): (usize, &f64)| {
            let (mut one_c_a, mut left_c) = (f64::INFINITY, f64::INFINITY);
            for (unit, state) in kernel.of_string(string, &self.end) {
                one_c_a = one_c_a.min(unit.one_c_a);
                left_c = left_c.min(unit.left_c(state));
            }
            StringLoad {
                string: if string >= lost { string + 1 } else { string },
                current: ElectricCurrent::new::<ampere>(current_a),
                c_rate: Ratio::new::<ratio>(current_a / one_c_a),
                left_at_touchdown: ElectricCharge::new::<coulomb>(left_c.max(0.0)),
            }
        };
        self.greatest_a.iter().enumerate().map(load).collect()
    }
}
