//! What stands beside a check that fails or warns: what it means for the crew, and the way out where the tool knows one.

use liftmargin_core::aircraft::BestSpeeds;
use liftmargin_core::card::{Card, WorstRotorOut};
use liftmargin_core::frame::Capability;
use liftmargin_core::limits::{CheckKind, State};
use liftmargin_core::units::Velocity;

use crate::present::answer::{Toward, stepped};
use crate::present::unit::Unit;
use crate::present::units::{Choice, Units};

/// Words for checks that have more to say than their figures, each with its check. `transit` is the airspeed on the way.
pub fn notes(
    card: &Card,
    state_of: impl Fn(CheckKind) -> Option<State>,
    transit: Velocity,
    speeds: Option<&BestSpeeds>,
    units: Units,
) -> Vec<(CheckKind, String)> {
    let mut notes: Vec<(CheckKind, String)> = Vec::new();
    notes.extend(card.rotor_out.map(|worst| (CheckKind::RotorOut, worst_rotor(&worst))));
    let Some(best) = speeds.filter(|best| best.range > transit) else { return notes };
    for kind in [CheckKind::ComesHome, CheckKind::WayHome] {
        if state_of(kind).is_some_and(|state| state != State::Fine) {
            let (at, set) = (whole_speed(best.range, units), whole_speed(transit, units));
            let words =
                format!("Way out: plan {at} on the way instead of {set}; it comes furthest into this wind.");
            notes.push((kind, words));
        }
    }
    notes
}

/// What becomes of the aircraft when its worst rotor stops.
pub fn worst_rotor(worst: &WorstRotorOut) -> String {
    let rotor = worst.failed + 1;
    match worst.capability {
        Capability::CannotHoldLevel => format!("Falls if rotor {rotor} stops: keep people from under it."),
        _ if worst.thrust_to_weight().value < 1.0 => {
            format!(
                "Stays level at best if rotor {rotor} stops, but sinks: keep people from under it, it does not land whole."
            )
        }
        _ if worst.holds_heading() => {
            format!("Stays level and on its heading if rotor {rotor} stops: land at once.")
        }
        _ => format!("Stays level if rotor {rotor} stops, turns: land at once."),
    }
}

fn whole_speed(speed: Velocity, units: Units) -> String {
    let unit = units.get(Choice::Speed);
    let step = if unit == Unit::MetrePerSecond { 0.5 } else { 1.0 };
    stepped(speed.value, unit, step, Toward::Nearest, units).to_string()
}
