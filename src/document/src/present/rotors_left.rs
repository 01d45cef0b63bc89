//! What each remaining rotor does with one stopped: thrust, throttle, current against its limit; power and minutes left.

use liftmargin_core::card::{RotorsStopped, Setup};
use liftmargin_core::constants::STANDARD_GRAVITY_M_S2;

use super::answer::{self, Toward, stepped};
use super::units::{Choice, Units};

/// What is left at work, as shown.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RotorsLeft {
    /// A row a rotor: its number, the mass that its thrust holds up, throttle, current of its limit.
    pub rows: Vec<[String; 4]>,
    /// Total power and minutes, in a sentence.
    pub sentence: String,
}

/// As shown; none where this weight cannot be carried.
pub fn rotors_left(left: &RotorsStopped, setup: &Setup, units: Units) -> Option<RotorsLeft> {
    let hover = left.hover.as_ref()?;
    let unit = &setup.airframe.unit;
    let limit = unit.motor.current_limit.min(unit.controller.current_limit);
    let row = |(index, rotor): (usize, &Option<_>)| {
        let name = (index + 1).to_string();
        let Some(rotor): Option<&liftmargin_core::propulsion::OperatingPoint> = rotor.as_ref() else {
            let none = || "\u{2013}".to_owned();
            return [name, "stopped".to_owned(), none(), none()];
        };
        let held = stepped(
            rotor.thrust.value / STANDARD_GRAVITY_M_S2,
            units.get(Choice::Mass),
            0.1,
            Toward::Up,
            units,
        );
        let throttle = hover.throttle(index).map(|share| answer::throttle(share, units).to_string());
        let current = format!(
            "{} of {}",
            answer::current(rotor.motor_current, units),
            stepped(limit.value, super::unit::Unit::Ampere, 1.0, Toward::Down, units)
        );
        [name, held.to_string(), throttle.unwrap_or_default(), current]
    };
    let rows = hover.at_work.rotors.iter().enumerate().map(row).collect();
    let power = answer::power(hover.at_work.power, units);
    let heading = if hover.at_work.holds_heading { "heading held" } else { "turning" };
    let minutes = match hover.time_left {
        Some(time) => format!("fresh packs last {} in that state", answer::time(time)),
        None => "the packs cannot carry that state down to their reserve".to_owned(),
    };
    Some(RotorsLeft {
        rows,
        sentence: format!("Motors draw {power} in all, {heading}; {minutes}. Land at once."),
    })
}
