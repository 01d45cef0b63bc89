//! What a column is taken for, as one choice with its unit.

use super::{Columns, SpeedUnit, ThrottleUnit, ThrustUnit};

/// What people choose from; the place in the list is the choice.
pub const ROLES: [&str; 14] = [
    "not used",
    "throttle, %",
    "throttle, 0 to 1",
    "throttle, µs of signal",
    "volts",
    "amperes",
    "thrust, grams",
    "thrust, kilograms",
    "thrust, newtons",
    "thrust, pounds",
    "thrust, ounces",
    "rotor rpm",
    "electrical rpm (not used)",
    "power drawn, W",
];

const THROTTLES: [ThrottleUnit; 3] =
    [ThrottleUnit::Percent, ThrottleUnit::Share, ThrottleUnit::SignalMicroseconds];
const THRUSTS: [ThrustUnit; 5] = [
    ThrustUnit::GramForce,
    ThrustUnit::KilogramForce,
    ThrustUnit::Newton,
    ThrustUnit::PoundForce,
    ThrustUnit::OunceForce,
];
const FIRST_THROTTLE: usize = 1;
const VOLTS: usize = 4;
const AMPERES: usize = 5;
const FIRST_THRUST: usize = 6;
const RPM: usize = 11;
const ELECTRICAL_RPM: usize = 12;
const POWER: usize = 13;

impl Columns {
    /// What a column is taken for: a place in `ROLES`.
    pub fn role(&self, column: usize) -> usize {
        let unit = |of: usize, first: usize| first + of;
        if let Some((_, own)) = self.throttle.filter(|(index, _)| *index == column) {
            unit(THROTTLES.iter().position(|unit| *unit == own).unwrap_or(0), FIRST_THROTTLE)
        } else if self.voltage == Some(column) {
            VOLTS
        } else if self.current == Some(column) {
            AMPERES
        } else if let Some((_, own)) = self.thrust.filter(|(index, _)| *index == column) {
            unit(THRUSTS.iter().position(|unit| *unit == own).unwrap_or(0), FIRST_THRUST)
        } else if let Some((_, own)) = self.speed.filter(|(index, _)| *index == column) {
            if own == SpeedUnit::Rpm { RPM } else { ELECTRICAL_RPM }
        } else if self.power == Some(column) {
            POWER
        } else {
            0
        }
    }

    /// Takes a column for something else; another column that was taken for it no longer is.
    pub fn give(&mut self, column: usize, role: usize) {
        self.throttle = self.throttle.filter(|(index, _)| *index != column);
        self.voltage = self.voltage.filter(|index| *index != column);
        self.current = self.current.filter(|index| *index != column);
        self.thrust = self.thrust.filter(|(index, _)| *index != column);
        self.speed = self.speed.filter(|(index, _)| *index != column);
        self.power = self.power.filter(|index| *index != column);
        if let Some(unit) = role.checked_sub(FIRST_THROTTLE).and_then(|unit| THROTTLES.get(unit)) {
            self.throttle = Some((column, *unit));
        } else if let Some(unit) = role.checked_sub(FIRST_THRUST).and_then(|unit| THRUSTS.get(unit)) {
            self.thrust = Some((column, *unit));
        }
        match role {
            VOLTS => self.voltage = Some(column),
            AMPERES => self.current = Some(column),
            RPM => self.speed = Some((column, SpeedUnit::Rpm)),
            ELECTRICAL_RPM => self.speed = Some((column, SpeedUnit::ElectricalRpm { pole_pairs: None })),
            POWER => self.power = Some(column),
            _ => {}
        }
    }

    /// Volts for rows that have none of their own, typed by hand; whatever is no voltage is none.
    pub fn state_voltage(&mut self, text: &str) {
        let volts = text.trim().replace(',', ".").parse::<f64>().ok();
        let volts = volts.filter(|volts| *volts > 0.0 && *volts < 1000.0);
        self.stated_voltage_mv = volts.map(|volts| (volts * 1000.0).round() as u32);
    }

    /// Those volts as text.
    pub fn stated_voltage(&self) -> String {
        self.stated_voltage_mv
            .map_or_else(String::new, |millivolts| (f64::from(millivolts) / 1000.0).to_string())
    }
}

impl super::Sheet {
    /// The rotor that the chosen table states, in metres.
    pub fn rotor_m(&self, columns: &Columns) -> Option<f64> {
        let part = match columns.table {
            Some(table) => self.parts.get(table)?,
            None if self.parts.len() == 1 => self.parts.first()?,
            None => return None,
        };
        part.rotor_mm.map(|millimetres| f64::from(millimetres) / 1000.0)
    }

    /// What stands around the table and was not taken for rows, in words; empty where nothing does.
    pub fn left_out_words(&self) -> String {
        let line = |line: &super::LeftOut| format!("line {}: {}", line.line, line.text);
        self.left_out.iter().map(line).collect::<Vec<_>>().join("\n")
    }
}
