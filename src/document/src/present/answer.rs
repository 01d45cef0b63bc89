//! Figures for people to act on, rounded to the safe side and never finer than they are known.
//!
//! Formula: floor or ceiling to a step. Units: core's quantities in, the user's units out. The steps are common
//! practice, no source: 10 s, 50 mAh, 1 %. A hundred-millionth of a step counts as rounding of the machine.

use liftmargin_core::input_range::Kind;
use liftmargin_core::units::{
    Area, ElectricCharge, ElectricCurrent, ElectricPotential, ElectricalResistance, Length, Mass,
    MassDensity, Power, Pressure, Ratio, ThermodynamicTemperature, Time, Velocity,
};

use super::number::write;
use super::unit::Unit;
use super::units::{Choice, Units};

/// A figure ready to stand on a screen: the number and the unit apart, as they are set in different sizes.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Shown {
    /// The number.
    pub number: String,
    /// The unit's symbol, may be empty.
    pub unit: &'static str,
}

impl core::fmt::Display for Shown {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self.unit {
            "" => f.write_str(&self.number),
            unit => write!(f, "{}\u{a0}{unit}", self.number),
        }
    }
}

/// Which way a figure is rounded.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Toward {
    /// To the lower step: where more would be better (time, charge, margin).
    Down,
    /// To the higher step: where less would be better (throttle, mass, wind).
    Up,
    /// To the nearest: where neither is safer.
    Nearest,
}

/// Rounds to a whole multiple of `step`.
pub fn round_to(value: f64, step: f64, toward: Toward) -> f64 {
    let steps = value / step;
    let nearest = steps.round();
    let whole = match toward {
        _ if (steps - nearest).abs() < 1e-8 => nearest,
        Toward::Down => steps.floor(),
        Toward::Up => steps.ceil(),
        Toward::Nearest => nearest,
    };
    whole * step
}

/// An SI value in a unit, rounded to a step of that unit.
pub fn stepped(si: f64, unit: Unit, step: f64, toward: Toward, units: Units) -> Shown {
    let decimals = if step >= 1.0 { 0 } else { (-step.log10()).ceil() as usize };
    let shown = round_to(unit.from_si(si), step, toward);
    Shown { number: write(shown, decimals, units.decimal_mark()), unit: unit.symbol() }
}

/// Whole tens of seconds, rounded down: a flight may be ended early, not late.
pub fn whole_seconds(time: Time) -> i64 {
    round_to(time.value, 10.0, Toward::Down) as i64
}

/// A time as "9 min 40 s", rounded down to 10 s.
pub fn time(time: Time) -> String {
    in_words(whole_seconds(time))
}

/// A time as "9:40", rounded down to 10 s.
pub fn clock(time: Time) -> String {
    let seconds = whole_seconds(time);
    let sign = if seconds < 0 { "\u{2212}" } else { "" };
    format!("{sign}{}:{:02}", seconds.abs() / 60, seconds.abs() % 60)
}

/// After less before as "−1 min 20 s": the difference of the two shown times, so that a reader can check it.
pub fn time_change(before: Time, after: Time) -> String {
    let seconds = whole_seconds(after) - whole_seconds(before);
    match seconds {
        0 => "no change".to_owned(),
        s if s > 0 => format!("+{}", in_words(s)),
        s => in_words(s),
    }
}

fn in_words(seconds: i64) -> String {
    let sign = if seconds < 0 { "\u{2212}" } else { "" };
    match (seconds.abs() / 60, seconds.abs() % 60) {
        (0, rest) => format!("{sign}{rest}\u{a0}s"),
        (minutes, 0) => format!("{sign}{minutes}\u{a0}min"),
        (minutes, rest) => format!("{sign}{minutes}\u{a0}min {rest}\u{a0}s"),
    }
}

/// Whole fifties of mAh, rounded down.
pub fn whole_mah(charge: ElectricCharge) -> i64 {
    round_to(Unit::MilliampereHour.from_si(charge.value), 50.0, Toward::Down) as i64
}

/// A meter reading to land or turn back by, mAh, rounded down to 50: acting at a smaller reading is the safe side.
pub fn charge(charge: ElectricCharge, units: Units) -> Shown {
    stepped(charge.value, Unit::MilliampereHour, 50.0, Toward::Down, units)
}

/// After less before in mAh: the difference of the two shown readings.
pub fn charge_change(before: ElectricCharge, after: ElectricCharge, units: Units) -> String {
    let change = whole_mah(after) - whole_mah(before);
    let sign = if change > 0 { "+" } else { "" };
    match change {
        0 => "no change".to_owned(),
        change => format!("{sign}{}\u{a0}mAh", write(change as f64, 0, units.decimal_mark())),
    }
}

/// A margin or reserve in percent, rounded down to 1 %.
pub fn margin(share: Ratio, units: Units) -> Shown {
    stepped(share.value, Unit::Percent, 1.0, Toward::Down, units)
}

/// Thrust-to-weight with one decimal, rounded down: 1.99 is not 2.0.
pub fn thrust_to_weight(ratio: Ratio, units: Units) -> Shown {
    stepped(ratio.value, Unit::One, 0.1, Toward::Down, units)
}

/// Throttle in percent, rounded up: less of it is room.
pub fn throttle(share: Ratio, units: Units) -> Shown {
    stepped(share.value, Unit::Percent, 1.0, Toward::Up, units)
}

/// All-up mass, rounded up to 10 g or 0.1 lb: heavier is the safe side.
pub fn mass(mass: Mass, units: Units) -> Shown {
    let unit = units.get(Choice::Mass);
    let step = if unit == Unit::Pound { 0.1 } else { 0.01 };
    stepped(mass.value, unit, step, Toward::Up, units)
}

/// Drag area, rounded up to 0.01 m²: more of it is the safe side.
pub fn drag_area(area: Area, units: Units) -> Shown {
    let unit = units.of_kind(Kind::Area);
    stepped(area.value, unit, if unit == Unit::SquareFoot { 0.1 } else { 0.01 }, Toward::Up, units)
}

/// A cell's resistance, rounded up to 0.01 mΩ: more of it is the safe side.
pub fn cell_resistance(resistance: ElectricalResistance, units: Units) -> Shown {
    stepped(resistance.value, Unit::Milliohm, 0.01, Toward::Up, units)
}

/// A spread, rounded up to 1 %.
pub fn doubt(spread: Ratio, units: Units) -> Shown {
    stepped(spread.value, Unit::Percent, 1.0, Toward::Up, units)
}

/// Density altitude, rounded up to 10 m or 50 ft: higher means thinner air.
pub fn density_altitude(altitude: Length, units: Units) -> Shown {
    let unit = units.get(Choice::Distance);
    let step = if unit == Unit::Foot { 50.0 } else { 10.0 };
    stepped(altitude.value, unit, step, Toward::Up, units)
}

/// Power drawn, rounded up to 10 W.
pub fn power(power: Power, units: Units) -> Shown {
    stepped(power.value, Unit::Watt, 10.0, Toward::Up, units)
}

/// Current drawn, rounded up to 1 A.
pub fn current(current: ElectricCurrent, units: Units) -> Shown {
    stepped(current.value, Unit::Ampere, 1.0, Toward::Up, units)
}

/// Wind met, rounded up to one of its unit (half a m/s).
pub fn wind(speed: Velocity, units: Units) -> Shown {
    let unit = units.get(Choice::Speed);
    let step = if unit == Unit::MetrePerSecond { 0.5 } else { 1.0 };
    stepped(speed.value, unit, step, Toward::Up, units)
}

/// Voltage left, rounded down to 0.1 V.
pub fn voltage(voltage: ElectricPotential, units: Units) -> Shown {
    stepped(voltage.value, Unit::Volt, 0.1, Toward::Down, units)
}

/// Voltage of one cell, rounded down to 0.01 V.
pub fn cell_voltage(voltage: ElectricPotential, units: Units) -> Shown {
    stepped(voltage.value, Unit::Volt, 0.01, Toward::Down, units)
}

/// Outside temperature to one degree; neither side is safer.
pub fn temperature(temperature: ThermodynamicTemperature, units: Units) -> Shown {
    stepped(temperature.value, units.get(Choice::Temperature), 1.0, Toward::Nearest, units)
}

/// Air density to 0.001 kg/m³, rounded down: thinner air is the safe side.
pub fn air_density(density: MassDensity, units: Units) -> Shown {
    stepped(density.value, Unit::KilogramPerCubicMetre, 0.001, Toward::Down, units)
}

/// Station pressure to 1 hPa or 0.01 inHg, rounded down: thinner air is the safe side.
pub fn pressure(pressure: Pressure, units: Units) -> Shown {
    let unit = units.get(Choice::Pressure);
    let step = if unit == Unit::InchOfMercury { 0.01 } else { 1.0 };
    stepped(pressure.value, unit, step, Toward::Down, units)
}
