//! The user's choice of unit for each sort of quantity.

use liftmargin_core::bound::{Bound, Kind};
use serde::{Deserialize, Serialize};

use super::unit::Unit;

/// A sort of quantity whose unit people choose.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Choice {
    /// Masses.
    Mass,
    /// Heights and distances.
    Distance,
    /// Sizes of parts.
    Part,
    /// Wind and airspeed.
    Speed,
    /// Climb and sink.
    VerticalSpeed,
    /// Temperatures.
    Temperature,
    /// Air pressure.
    Pressure,
}

impl Choice {
    /// All of them, in the order a settings page lists them.
    pub const ALL: [Self; 7] = [
        Self::Mass,
        Self::Distance,
        Self::Part,
        Self::Speed,
        Self::VerticalSpeed,
        Self::Temperature,
        Self::Pressure,
    ];

    /// Name for people.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Mass => "Mass",
            Self::Distance => "Height and distance",
            Self::Part => "Part size",
            Self::Speed => "Wind and airspeed",
            Self::VerticalSpeed => "Climb and sink",
            Self::Temperature => "Temperature",
            Self::Pressure => "Air pressure",
        }
    }

    /// The units on offer.
    pub const fn options(self) -> &'static [Unit] {
        match self {
            Self::Mass => &[Unit::Kilogram, Unit::Pound],
            Self::Distance => &[Unit::Metre, Unit::Foot],
            Self::Part => &[Unit::Millimetre, Unit::Inch],
            Self::Speed => &[Unit::KilometrePerHour, Unit::MilePerHour, Unit::Knot, Unit::MetrePerSecond],
            Self::VerticalSpeed => &[Unit::MetrePerSecond, Unit::FootPerMinute],
            Self::Temperature => &[Unit::Celsius, Unit::Fahrenheit],
            Self::Pressure => &[Unit::Hectopascal, Unit::InchOfMercury],
        }
    }
}

/// How decimals are shown; both are always accepted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum DecimalMark {
    /// 1.4
    #[default]
    Point,
    /// 1,4
    Comma,
}

/// The user's units. Only units on offer can be in it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(try_from = "Stored", into = "Stored")]
pub struct Units {
    stored: Stored,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
struct Stored {
    mass: Unit,
    distance: Unit,
    part: Unit,
    speed: Unit,
    vertical_speed: Unit,
    temperature: Unit,
    pressure: Unit,
    #[serde(default)]
    decimal_mark: DecimalMark,
}

impl Default for Units {
    fn default() -> Self {
        Self::metric()
    }
}

impl Units {
    /// Kilogram, metre, millimetre, km/h, °C, hPa.
    pub const fn metric() -> Self {
        Self {
            stored: Stored {
                mass: Unit::Kilogram,
                distance: Unit::Metre,
                part: Unit::Millimetre,
                speed: Unit::KilometrePerHour,
                vertical_speed: Unit::MetrePerSecond,
                temperature: Unit::Celsius,
                pressure: Unit::Hectopascal,
                decimal_mark: DecimalMark::Point,
            },
        }
    }

    /// Pound, foot, inch, mph, °F, inHg.
    pub const fn us() -> Self {
        Self {
            stored: Stored {
                mass: Unit::Pound,
                distance: Unit::Foot,
                part: Unit::Inch,
                speed: Unit::MilePerHour,
                vertical_speed: Unit::FootPerMinute,
                temperature: Unit::Fahrenheit,
                pressure: Unit::InchOfMercury,
                decimal_mark: DecimalMark::Point,
            },
        }
    }

    /// The unit chosen.
    pub const fn get(&self, choice: Choice) -> Unit {
        match choice {
            Choice::Mass => self.stored.mass,
            Choice::Distance => self.stored.distance,
            Choice::Part => self.stored.part,
            Choice::Speed => self.stored.speed,
            Choice::VerticalSpeed => self.stored.vertical_speed,
            Choice::Temperature => self.stored.temperature,
            Choice::Pressure => self.stored.pressure,
        }
    }

    /// With this unit chosen, or none if it is not on offer for that.
    #[must_use]
    pub fn with(mut self, choice: Choice, unit: Unit) -> Option<Self> {
        if !choice.options().contains(&unit) {
            return None;
        }
        let place = match choice {
            Choice::Mass => &mut self.stored.mass,
            Choice::Distance => &mut self.stored.distance,
            Choice::Part => &mut self.stored.part,
            Choice::Speed => &mut self.stored.speed,
            Choice::VerticalSpeed => &mut self.stored.vertical_speed,
            Choice::Temperature => &mut self.stored.temperature,
            Choice::Pressure => &mut self.stored.pressure,
        };
        *place = unit;
        Some(self)
    }

    /// How decimals are shown.
    pub const fn decimal_mark(&self) -> DecimalMark {
        self.stored.decimal_mark
    }

    /// With this decimal mark.
    #[must_use]
    pub const fn with_decimal_mark(mut self, mark: DecimalMark) -> Self {
        self.stored.decimal_mark = mark;
        self
    }

    /// The unit that an input is typed in.
    pub fn of(&self, bound: &Bound) -> Unit {
        match bound.kind {
            // People set wind and climb side by side in different units.
            Kind::Speed if matches!(bound.field, "climb_rate" | "descent_rate") => {
                self.get(Choice::VerticalSpeed)
            }
            Kind::Duration if bound.field == "reserve_time" => Unit::Minute,
            kind => self.of_kind(kind),
        }
    }

    /// The unit that a quantity of this kind is shown in.
    pub const fn of_kind(&self, kind: Kind) -> Unit {
        match kind {
            Kind::Mass => self.get(Choice::Mass),
            Kind::Length => self.get(Choice::Distance),
            Kind::PartLength => self.get(Choice::Part),
            Kind::Area => match self.get(Choice::Part) {
                Unit::Inch => Unit::SquareFoot,
                _ => Unit::SquareMetre,
            },
            Kind::Pressure => self.get(Choice::Pressure),
            Kind::Temperature => self.get(Choice::Temperature),
            Kind::Share => Unit::Percent,
            Kind::Speed => self.get(Choice::Speed),
            Kind::Duration => Unit::Second,
            Kind::Charge => Unit::MilliampereHour,
            Kind::Potential => Unit::Volt,
            Kind::Resistance => Unit::Milliohm,
            Kind::Current => Unit::Ampere,
            Kind::Power => Unit::Watt,
            Kind::VelocityConstant => Unit::RpmPerVolt,
            Kind::Count => Unit::Count,
            Kind::Force => Unit::Newton,
            Kind::RotationalSpeed => Unit::Rpm,
            Kind::CRate => Unit::CRate,
            Kind::Density => Unit::KilogramPerCubicMetre,
            _ => Unit::One,
        }
    }
}

impl From<Units> for Stored {
    fn from(units: Units) -> Self {
        units.stored
    }
}

impl TryFrom<Stored> for Units {
    type Error = &'static str;

    fn try_from(stored: Stored) -> Result<Self, Self::Error> {
        let units = Self { stored };
        let all_on_offer = Choice::ALL.into_iter().all(|c| c.options().contains(&units.get(c)));
        if all_on_offer { Ok(units) } else { Err("a unit that is not on offer for its quantity") }
    }
}
