//! The longest flight that the reserve policy allows, in full and in brief.

use uom::si::electric_charge::coulomb;
use uom::si::electric_potential::volt;
use uom::si::time::second;

use crate::flight::params::{
    BriefFlight, Flight, FlightSettings, LEG_DURATION, LEG_POWER, LEGS, MeterMarks, NoFlight, ON_SET_POWER,
    ReservePolicy,
};
use crate::flight::record::Record;
use crate::flight::search::{Found, Search};
use crate::flight::segment::{Course, Limits, Step};
use crate::input_error::InputError;
use crate::profile::{Leg, LegDemand, LegKind};
use crate::supply::joined::Kernel;
use crate::supply::pack_unit::UnitState;
use crate::supply::{Meter, MeterPlace, Supply};
use crate::units::{ElectricCharge, ElectricPotential, Ratio, Time};

/// The longest flight, or why there is none.
///
/// Out as given, on set as long as possible, home as given (the go-around flown), so that at the end the
/// strictest limit is just reached in the worst string and the loaded cell floor has held throughout.
///
/// # Errors
/// `InputError` for a supply, demand or policy outside its documented range.
pub fn fly(
    supply: &Supply,
    demand: &LegDemand,
    policy: &ReservePolicy,
) -> Result<Result<Flight, NoFlight>, InputError> {
    fly_with(supply, demand, policy, &FlightSettings::default())
}

/// `fly` with other settings than the default.
///
/// # Errors
/// As `fly`, and for settings outside their range.
pub fn fly_with(
    supply: &Supply,
    demand: &LegDemand,
    policy: &ReservePolicy,
    settings: &FlightSettings,
) -> Result<Result<Flight, NoFlight>, InputError> {
    let task = FlightTask::new(supply, demand, policy, settings)?;
    Ok(task.longest().map(|mut longest| longest.in_full()))
}

/// The longest flight without its course: cheaper, for sampling.
///
/// # Errors
/// As `fly_with`.
pub fn fly_brief(
    supply: &Supply,
    demand: &LegDemand,
    policy: &ReservePolicy,
    settings: &FlightSettings,
) -> Result<Result<BriefFlight, NoFlight>, InputError> {
    let task = FlightTask::new(supply, demand, policy, settings)?;
    Ok(task.longest().map(|longest| longest.in_brief()))
}

/// A flight to be flown: supply, legs and policy checked and turned into plain numbers, once for every question.
#[derive(Debug, Clone)]
pub struct FlightTask {
    pub(super) course: Course,
    pub(super) limits: Limits,
    meter: Meter,
}

impl FlightTask {
    /// Checks every input.
    ///
    /// # Errors
    /// `InputError` for a supply, demand, policy or settings outside their documented range.
    pub fn new(
        supply: &Supply,
        demand: &LegDemand,
        policy: &ReservePolicy,
        settings: &FlightSettings,
    ) -> Result<Self, InputError> {
        supply.validate()?;
        policy.validate()?;
        settings.behaviour.check()?;
        FlightSettings::REFINEMENT.check(settings.refinement.value)?;
        let surroundings_k = match settings.surroundings {
            Some(temperature) => Some(FlightSettings::SURROUNDINGS.check(temperature.value)?),
            None => None,
        };
        check_legs(&demand.outbound)?;
        check_legs(&demand.homebound)?;
        ON_SET_POWER.check(demand.on_set.value)?;
        let kernel = Kernel::new(supply, &settings.behaviour, surroundings_k);
        Ok(Self {
            course: Course::new(kernel, demand, settings.refinement.value),
            limits: Limits::of(policy),
            meter: supply.meter,
        })
    }

    /// Searches the longest flight.
    ///
    /// # Errors
    /// Why there is none.
    pub fn longest(&self) -> Result<LongestFlight<'_>, NoFlight> {
        let mut search = Search::new(&self.course, self.limits)?;
        let found = search.longest();
        search.turn_back(found.on_set_s);
        let turned = search.segment.states.clone();
        Ok(LongestFlight { meter: self.meter, search, found, turned })
    }
}

/// The longest flight of a task, found once; what is asked of it is flown again from its stored states.
pub struct LongestFlight<'a> {
    meter: Meter,
    pub(super) search: Search<'a>,
    pub(super) found: Found,
    /// The packs when turning back.
    turned: Vec<UnitState>,
}

impl LongestFlight<'_> {
    /// With its course.
    pub fn in_full(&mut self) -> Flight {
        let brief = self.in_brief();
        let record = Record::of(&mut self.search, self.found.on_set_s);
        let kernel = &self.search.segment.course.kernel;
        let marks = |meter: Meter| marks(&meter, kernel, &self.turned, &self.search.down);
        Flight {
            flight_time: brief.flight_time,
            time_on_set: brief.time_on_set,
            turn_back_at: brief.turn_back_at,
            land_by_at: brief.land_by_at,
            limit: brief.limit,
            marks: brief.marks,
            marks_by_meter: meters(self.meter, kernel.strings()).map(marks).collect(),
            samples: record.samples,
            bus_voltage_at_land_by: brief.bus_voltage_at_land_by,
            source_at_land_by: kernel.source(&self.search.down),
            extremes: record.extremes,
        }
    }

    /// Without its course.
    pub fn in_brief(&self) -> BriefFlight {
        let Found { on_set_s, limit } = self.found;
        let course = self.search.segment.course;
        let time = |steps: &[Step], wanted: fn(LegKind) -> bool| -> f64 {
            steps.iter().filter(|step| wanted(step.kind)).map(|step| step.duration_s).sum()
        };
        let airborne = |kind| !matches!(kind, LegKind::WarmUp | LegKind::GoAround);
        let flight_s = time(&course.outbound, airborne) + on_set_s + time(&course.homebound, airborne);
        let under_load = course.kernel.moment(&self.search.down, course.on_set.power_w);
        BriefFlight {
            flight_time: Time::new::<second>(flight_s),
            time_on_set: Time::new::<second>(on_set_s),
            turn_back_at: Time::new::<second>(self.search.out_s + on_set_s),
            land_by_at: Time::new::<second>(self.search.down_s),
            limit,
            marks: marks(&self.meter, &course.kernel, &self.turned, &self.search.down),
            bus_voltage_at_land_by: ElectricPotential::new::<volt>(
                under_load.map_or_else(|overload| overload.bus_v, |moment| moment.working.bus_v),
            ),
        }
    }
}

fn check_legs(legs: &[Leg]) -> Result<(), InputError> {
    LEGS.check(legs.len() as f64)?;
    for leg in legs {
        LEG_POWER.check(leg.power.value)?;
        LEG_DURATION.check(leg.duration.value)?;
    }
    Ok(())
}

/// The meters that could be on board; only the one that is carries its scale error.
fn meters(on_board: Meter, strings: usize) -> impl Iterator<Item = Meter> {
    let places = core::iter::once(MeterPlace::Bus).chain((0..strings).map(MeterPlace::String));
    places.map(move |place| {
        if place == on_board.place { on_board } else { Meter { place, scale_error: Ratio::default() } }
    })
}

fn marks(meter: &Meter, kernel: &Kernel, turned: &[UnitState], down: &[UnitState]) -> MeterMarks {
    let shown = |charge_c: f64| ElectricCharge::new::<coulomb>(charge_c * (1.0 + meter.scale_error.value));
    let passed = |per_string: &dyn Fn(usize) -> f64| match meter.place {
        MeterPlace::Bus => (0..kernel.strings()).map(per_string).sum::<f64>(),
        MeterPlace::String(string) => per_string(string),
    };
    MeterMarks {
        place: meter.place,
        turn_back: shown(passed(&|string| kernel.used_c(string, turned))),
        land_by: shown(passed(&|string| kernel.used_c(string, down))),
        capacity: shown(passed(&|string| kernel.on_board_c(string))),
    }
}
