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
use crate::supply::kernel::{Kernel, UnitState};
use crate::supply::{Meter, MeterPlace, Supply};
use crate::units::{ElectricCharge, ElectricPotential, Time};

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
    let (course, limits) = prepare(supply, demand, policy, settings)?;
    Ok(Search::new(&course, limits).map(|mut search| {
        let found = search.longest();
        let brief = brief(supply, &mut search, &found);
        let record = Record::of(&mut search, found.on_set_s);
        let (turned, _) = ends(&mut search, &found);
        let marks_by_meter =
            meters(supply).map(|meter| marks(&meter, &course.kernel, &turned, &search.down)).collect();
        Flight {
            flight_time: brief.flight_time,
            time_on_set: brief.time_on_set,
            turn_back_at: brief.turn_back_at,
            land_by_at: brief.land_by_at,
            limit: brief.limit,
            marks: brief.marks,
            marks_by_meter,
            samples: record.samples,
            bus_voltage_at_land_by: brief.bus_voltage_at_land_by,
            source_at_land_by: course.kernel.source(&search.down),
            extremes: record.extremes,
        }
    }))
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
    let (course, limits) = prepare(supply, demand, policy, settings)?;
    Ok(Search::new(&course, limits).map(|mut search| {
        let found = search.longest();
        brief(supply, &mut search, &found)
    }))
}

/// Checks every input and turns it into plain numbers.
pub(super) fn prepare(
    supply: &Supply,
    demand: &LegDemand,
    policy: &ReservePolicy,
    settings: &FlightSettings,
) -> Result<(Course, Limits), InputError> {
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
    Ok((Course::new(kernel, demand, settings.refinement.value), Limits::of(policy)))
}

fn check_legs(legs: &[Leg]) -> Result<(), InputError> {
    LEGS.check(legs.len() as f64)?;
    for leg in legs {
        LEG_POWER.check(leg.power.value)?;
        LEG_DURATION.check(leg.duration.value)?;
    }
    Ok(())
}

/// States at turning back and at the end; leaves the end in `search.down`.
fn ends(search: &mut Search, found: &Found) -> (Vec<UnitState>, f64) {
    search.turn_back(found.on_set_s);
    let turned = search.segment.states.clone();
    search.home(found.on_set_s, &mut |_| true);
    (turned, search.down_s)
}

fn brief(supply: &Supply, search: &mut Search, found: &Found) -> BriefFlight {
    let (turned, down_s) = ends(search, found);
    let course = search.segment.course;
    let time = |steps: &[Step], wanted: fn(LegKind) -> bool| -> f64 {
        steps.iter().filter(|step| wanted(step.kind)).map(|step| step.duration_s).sum()
    };
    let airborne = |kind| !matches!(kind, LegKind::WarmUp | LegKind::GoAround);
    let flight_s = time(&course.outbound, airborne) + found.on_set_s + time(&course.homebound, airborne);
    let at_rest_of_power = course.kernel.moment(&search.down, course.on_set.power_w);
    BriefFlight {
        flight_time: Time::new::<second>(flight_s),
        time_on_set: Time::new::<second>(found.on_set_s),
        turn_back_at: Time::new::<second>(search.out_s + found.on_set_s),
        land_by_at: Time::new::<second>(down_s),
        limit: found.limit,
        marks: marks(&supply.meter, &course.kernel, &turned, &search.down),
        bus_voltage_at_land_by: ElectricPotential::new::<volt>(
            at_rest_of_power.map_or_else(|overload| overload.bus_v, |moment| moment.working.bus_v),
        ),
    }
}

/// The meters that could be on board; only the one that is carries its scale error.
fn meters(supply: &Supply) -> impl Iterator<Item = Meter> {
    let on_board = supply.meter;
    core::iter::once(MeterPlace::Bus).chain((0..supply.strings.len()).map(MeterPlace::String)).map(
        move |place| {
            if place == on_board.place {
                on_board
            } else {
                Meter { place, scale_error: crate::units::Ratio::default() }
            }
        },
    )
}

fn marks(meter: &Meter, kernel: &Kernel, turned: &[UnitState], down: &[UnitState]) -> MeterMarks {
    let shown = |charge_c: f64| ElectricCharge::new::<coulomb>(charge_c * (1.0 + meter.scale_error.value));
    let passed = |per_string: &dyn Fn(usize) -> f64| match meter.place {
        MeterPlace::Bus => (0..kernel.strings).map(per_string).sum::<f64>(),
        MeterPlace::String(string) => per_string(string),
    };
    MeterMarks {
        place: meter.place,
        turn_back: shown(passed(&|string| kernel.used_c(string, turned))),
        land_by: shown(passed(&|string| kernel.used_c(string, down))),
        capacity: shown(passed(&|string| kernel.on_board_c(string))),
    }
}
