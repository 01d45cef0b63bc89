//! Where a flight without time on set first breaks a limit.

use uom::si::power::watt;
use uom::si::time::second;

use crate::flight::params::{FlightLimit, NoFlight};
use crate::flight::segment::{Course, Limits, Margin, Segment, Step};
use crate::profile::LegKind;
use crate::supply::pack_unit::UnitState;
use crate::supply::sharing::Overload;
use crate::units::{Power, Time};

pub(super) fn too_little(limit: FlightLimit, at_s: f64) -> NoFlight {
    NoFlight::TooLittleCharge { limit, at: Time::new::<second>(at_s) }
}

pub(super) fn collapse(step: &Step, overload: Overload) -> NoFlight {
    NoFlight::VoltageCollapse {
        leg: step.kind,
        asked: Power::new::<watt>(step.power_w),
        greatest: Power::new::<watt>(overload.greatest_w),
    }
}

/// The first limit broken on the way out, through a moment on set, and home.
pub(super) fn first(course: &Course, limits: Limits) -> NoFlight {
    let mut segment = Segment::new(course, limits);
    segment.least = limits.by_charge(&course.kernel, &segment.states);
    if segment.least.left < 0.0 {
        return too_little(segment.least.limit, 0.0);
    }
    for step in course.outbound.iter().chain([&course.on_set]).chain(&course.homebound) {
        if let Some(fault) = in_stretch(&mut segment, step) {
            return fault;
        }
    }
    too_little(segment.least.limit, segment.time_s)
}

fn in_stretch(segment: &mut Segment, step: &Step) -> Option<NoFlight> {
    if let Err(overload) = segment.look(step.power_w) {
        return Some(collapse(step, overload));
    }
    if segment.least.left < 0.0 {
        return Some(too_little(segment.least.limit, segment.time_s));
    }
    let mut good: (Vec<UnitState>, f64) = (segment.states.clone(), segment.time_s);
    let flown = segment.fly(step, step.duration_s, &mut |sight| {
        let fine = sight.least.left >= 0.0;
        if fine {
            good = (sight.states.to_vec(), sight.time_s);
        }
        fine
    });
    (flown.is_err() || segment.least.left < 0.0).then(|| within_step(segment, step, &good))
}

/// Closes in on the breach between a good state and the end of the step after it, to well below 0.1 s.
fn within_step(segment: &mut Segment, step: &Step, (states, time_s): &(Vec<UnitState>, f64)) -> NoFlight {
    let (mut fine_s, mut broken_s) = (0.0, segment.course.step_s(step.power_w).min(10.0));
    let mut fault = too_little(segment.least.limit, *time_s);
    for _ in 0..12 {
        let middle_s = 0.5 * (fine_s + broken_s);
        segment.rewind(states, *time_s, Margin::FREE);
        let flown = segment.look(step.power_w).and_then(|now| segment.step(&now, step.power_w, middle_s));
        match flown {
            Ok(_) if segment.least.left >= 0.0 => fine_s = middle_s,
            Ok(_) => {
                broken_s = middle_s;
                fault = too_little(segment.least.limit, time_s + middle_s);
            }
            Err(overload) => {
                broken_s = middle_s;
                fault = collapse(step, overload);
            }
        }
    }
    fault
}

/// Longest a power can be held from a state before a limit breaks, s, and the limit; `most_s` if none does.
pub(super) fn holds(segment: &mut Segment, power_w: f64, most_s: f64) -> (f64, Option<FlightLimit>) {
    let step = Step { kind: LegKind::OnSet, duration_s: most_s, power_w };
    let start_s = segment.time_s;
    segment.least = Margin::FREE;
    match in_stretch(segment, &step) {
        None => (most_s, None),
        Some(NoFlight::TooLittleCharge { limit, at }) => (at.value - start_s, Some(limit)),
        Some(NoFlight::VoltageCollapse { .. }) => {
            (segment.time_s - start_s, Some(FlightLimit::GreatestPower))
        }
    }
}
