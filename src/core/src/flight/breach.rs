//! Where a flight without time on set first breaks a limit.

use uom::si::power::watt;
use uom::si::time::second;

use crate::flight::params::{FlightLimit, NoFlight};
use crate::flight::walk::{Course, Limits, Margin, Stretch, Walk};
use crate::profile::LegKind;
use crate::supply::circuit::Overload;
use crate::supply::kernel::UnitState;
use crate::units::{Power, Time};

pub(super) fn too_little(limit: FlightLimit, at_s: f64) -> NoFlight {
    NoFlight::TooLittleCharge { limit, at: Time::new::<second>(at_s) }
}

pub(super) fn collapse(stretch: &Stretch, overload: Overload) -> NoFlight {
    NoFlight::VoltageCollapse {
        leg: stretch.kind,
        asked: Power::new::<watt>(stretch.power_w),
        greatest: Power::new::<watt>(overload.greatest_w),
    }
}

/// The first limit broken on the way out, through a moment on set, and home.
pub(super) fn first(course: &Course, limits: Limits) -> NoFlight {
    let mut walk = Walk::new(course, limits);
    walk.least = limits.by_charge(&course.kernel, &walk.states);
    if walk.least.room < 0.0 {
        return too_little(walk.least.limit, 0.0);
    }
    for stretch in course.outbound.iter().chain([&course.on_set]).chain(&course.homebound) {
        if let Some(fault) = in_stretch(&mut walk, stretch) {
            return fault;
        }
    }
    too_little(walk.least.limit, walk.time_s)
}

fn in_stretch(walk: &mut Walk, stretch: &Stretch) -> Option<NoFlight> {
    if let Err(overload) = walk.look(stretch.power_w) {
        return Some(collapse(stretch, overload));
    }
    if walk.least.room < 0.0 {
        return Some(too_little(walk.least.limit, walk.time_s));
    }
    let mut good: (Vec<UnitState>, f64) = (walk.states.clone(), walk.time_s);
    let flown = walk.fly(stretch, stretch.duration_s, &mut |sight| {
        let fine = sight.least.room >= 0.0;
        if fine {
            good = (sight.states.to_vec(), sight.time_s);
        }
        fine
    });
    (flown.is_err() || walk.least.room < 0.0).then(|| within_step(walk, stretch, &good))
}

/// Closes in on the breach between a good state and the end of the step after it, to well below 0.1 s.
fn within_step(walk: &mut Walk, stretch: &Stretch, (states, time_s): &(Vec<UnitState>, f64)) -> NoFlight {
    let (mut fine_s, mut broken_s) = (0.0, walk.course.step_s(stretch.power_w).min(10.0));
    let mut fault = too_little(walk.least.limit, *time_s);
    for _ in 0..12 {
        let middle_s = 0.5 * (fine_s + broken_s);
        walk.rewind(states, *time_s, Margin::FREE);
        let flown = walk.look(stretch.power_w).and_then(|now| walk.step(&now, stretch.power_w, middle_s));
        match flown {
            Ok(_) if walk.least.room >= 0.0 => fine_s = middle_s,
            Ok(_) => {
                broken_s = middle_s;
                fault = too_little(walk.least.limit, time_s + middle_s);
            }
            Err(overload) => {
                broken_s = middle_s;
                fault = collapse(stretch, overload);
            }
        }
    }
    fault
}

/// Longest a power can be held from a state before a limit breaks, s, and the limit; `most_s` if none does.
pub(super) fn holds(walk: &mut Walk, power_w: f64, most_s: f64) -> (f64, Option<FlightLimit>) {
    let stretch = Stretch { kind: LegKind::OnSet, duration_s: most_s, power_w };
    let start_s = walk.time_s;
    walk.least = Margin::FREE;
    match in_stretch(walk, &stretch) {
        None => (most_s, None),
        Some(NoFlight::TooLittleCharge { limit, at }) => (at.value - start_s, Some(limit)),
        Some(NoFlight::VoltageCollapse { .. }) => (walk.time_s - start_s, Some(FlightLimit::GreatestPower)),
    }
}
