//! A flight in the air as it stands on a screen: rounded to the safe side, in the user's units.

use liftmargin_core::units::{ElectricCharge, Time};
use uom::si::electric_charge::milliampere_hour;
use uom::si::time::second;

use super::in_flight::{InFlight, Marks};
use crate::present::Units;
use crate::present::answer::{self, Shown, Toward, round_to};

/// What stands on the screen.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct AirShown {
    /// "8:03".
    pub time: String,
    /// By the meter on board.
    pub turn_back: Shown,
    /// "in 5 min 20 s".
    pub turn_back_in: String,
    /// By the meter on board.
    pub land_by: Shown,
    /// "in 7 min 10 s".
    pub land_by_in: String,
    /// What the meter should show now.
    pub used: String,
    /// The difference from the plan.
    pub projection: String,
}

/// Time in the air to the second: "8:03", with hours where there are some.
pub fn running(seconds: f64) -> String {
    let sign = if seconds < 0.0 { "\u{2212}" } else { "" };
    let whole = if seconds.is_finite() { seconds.abs().floor() as i64 } else { 0 };
    let (hours, minutes, rest) = (whole / 3600, whole / 60 % 60, whole % 60);
    if hours > 0 {
        format!("{sign}{hours}:{minutes:02}:{rest:02}")
    } else {
        format!("{sign}{minutes}:{rest:02}")
    }
}

/// A flight in the air.
pub fn shown(at: &InFlight, readings: usize, units: Units) -> AirShown {
    let mah = |value: f64| answer::charge(ElectricCharge::new::<milliampere_hour>(value), units);
    AirShown {
        time: running(at.elapsed_s),
        turn_back: mah(at.cautious.turn_back_mah),
        turn_back_in: until(at.cautious.turn_back_at_s - at.elapsed_s),
        land_by: mah(at.cautious.land_by_mah),
        land_by_in: until(at.cautious.land_by_at_s - at.elapsed_s),
        used: format!("the meter should show about {}", mah(at.used_mah)),
        projection: projection(at, readings),
    }
}

/// Rounded down to 10 s; from zero on it says so.
fn until(left_s: f64) -> String {
    if left_s > 0.0 {
        format!("in {}", answer::time(Time::new::<second>(left_s)))
    } else {
        format!("{} ago", answer::time(Time::new::<second>(-left_s)))
    }
}

fn projection(at: &InFlight, readings: usize) -> String {
    let InFlight { planned: Marks { land_by_at_s: planned_s, .. }, middle, .. } = at;
    if readings == 0 {
        return "As planned: no reading yet.".to_owned();
    }
    let used = round_to(at.over_plan_mah, 50.0, Toward::Up);
    let sooner_s = round_to(planned_s - middle.land_by_at_s, 10.0, Toward::Up);
    let used_words = match used {
        used if used > 0.0 => format!("{used:.0} mAh more than planned"),
        used if used < 0.0 => format!("{:.0} mAh less than planned", -used),
        _ => "Used as planned".to_owned(),
    };
    let time_words = match sooner_s {
        sooner if sooner > 0.0 => format!("down {} sooner", answer::time(Time::new::<second>(sooner))),
        sooner if sooner < 0.0 => format!("down {} later", answer::time(Time::new::<second>(-sooner))),
        _ => "down at the planned time".to_owned(),
    };
    let by = if readings == 1 { "reading" } else { "readings" };
    format!("{used_words}, {time_words} (by {readings} {by}).")
}
