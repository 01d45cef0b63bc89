//! The user's choice of unit for each sort of quantity.

use liftmargin_core::input_range::{InputRange, Kind};
use serde_json::{Map, Value};

use super::unit::Unit;

/// The decimal mark's name in a file.
const MARK: &str = "decimal_mark";

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

    /// Its name in a file.
    const fn key(self) -> &'static str {
        match self {
            Self::Mass => "mass",
            Self::Distance => "distance",
            Self::Part => "part",
            Self::Speed => "speed",
            Self::VerticalSpeed => "vertical_speed",
            Self::Temperature => "temperature",
            Self::Pressure => "pressure",
        }
    }

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
    pub fn options(self) -> Vec<Unit> {
        Unit::ALL.into_iter().filter(|unit| unit.choices().contains(&self)).collect()
    }
}

/// How decimals are shown; both are always accepted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum DecimalMark {
    /// 1.4
    #[default]
    Point,
    /// 1,4
    Comma,
}

/// The user's units. Only units on offer can be in it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Units {
    mass: Unit,
    distance: Unit,
    part: Unit,
    speed: Unit,
    vertical_speed: Unit,
    temperature: Unit,
    pressure: Unit,
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
            mass: Unit::Kilogram,
            distance: Unit::Metre,
            part: Unit::Millimetre,
            speed: Unit::KilometrePerHour,
            vertical_speed: Unit::MetrePerSecond,
            temperature: Unit::Celsius,
            pressure: Unit::Hectopascal,
            decimal_mark: DecimalMark::Point,
        }
    }

    /// Pound, foot, inch, mph, °F, inHg.
    pub const fn us() -> Self {
        Self {
            mass: Unit::Pound,
            distance: Unit::Foot,
            part: Unit::Inch,
            speed: Unit::MilePerHour,
            vertical_speed: Unit::FootPerMinute,
            temperature: Unit::Fahrenheit,
            pressure: Unit::InchOfMercury,
            decimal_mark: DecimalMark::Point,
        }
    }

    /// The unit chosen.
    pub const fn get(&self, choice: Choice) -> Unit {
        match choice {
            Choice::Mass => self.mass,
            Choice::Distance => self.distance,
            Choice::Part => self.part,
            Choice::Speed => self.speed,
            Choice::VerticalSpeed => self.vertical_speed,
            Choice::Temperature => self.temperature,
            Choice::Pressure => self.pressure,
        }
    }

    /// With this unit chosen, or none if it is not on offer for that.
    #[must_use]
    pub fn with(mut self, choice: Choice, unit: Unit) -> Option<Self> {
        if !unit.choices().contains(&choice) {
            return None;
        }
        let place = match choice {
            Choice::Mass => &mut self.mass,
            Choice::Distance => &mut self.distance,
            Choice::Part => &mut self.part,
            Choice::Speed => &mut self.speed,
            Choice::VerticalSpeed => &mut self.vertical_speed,
            Choice::Temperature => &mut self.temperature,
            Choice::Pressure => &mut self.pressure,
        };
        *place = unit;
        Some(self)
    }

    /// How decimals are shown.
    pub const fn decimal_mark(&self) -> DecimalMark {
        self.decimal_mark
    }

    /// With this decimal mark.
    #[must_use]
    pub const fn with_decimal_mark(mut self, mark: DecimalMark) -> Self {
        self.decimal_mark = mark;
        self
    }

    /// The unit that an input is typed in.
    pub fn of(&self, range: &InputRange) -> Unit {
        match range.kind {
            // People set wind and climb side by side in different units.
            Kind::Speed if matches!(range.field, "climb_rate" | "descent_rate") => {
                self.get(Choice::VerticalSpeed)
            }
            // People speak of these in minutes.
            Kind::Duration if matches!(range.field, "reserve_time" | "pause" | "flight_duration") => {
                Unit::Minute
            }
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
            Kind::Angle => Unit::Degree,
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
            Kind::Number => Unit::One,
        }
    }
}

impl Units {
    /// As a value of a file: the symbol of each chosen unit by what it is for.
    pub fn write(&self) -> Value {
        let mut object = Map::new();
        for choice in Choice::ALL {
            object.insert(choice.key().to_owned(), Value::from(self.get(choice).symbol()));
        }
        object.insert(
            MARK.to_owned(),
            Value::from(if self.decimal_mark == DecimalMark::Comma { "," } else { "." }),
        );
        Value::Object(object)
    }

    /// From such a value; none where a unit is missing or not on offer.
    pub fn read(value: &Value) -> Option<Self> {
        let mut units = Self::default();
        for choice in Choice::ALL {
            let symbol = value.get(choice.key())?.as_str()?;
            let unit = choice.options().into_iter().find(|unit| unit.symbol() == symbol)?;
            units = units.with(choice, unit)?;
        }
        match value.get(MARK)?.as_str()? {
            "," => Some(units.with_decimal_mark(DecimalMark::Comma)),
            "." => Some(units),
            _ => None,
        }
    }
}
