//! Every unit a number is typed or shown in, with its way to and from SI.
//!
//! Formula: the `uom` crate's unit tables; k_V = rpm/V · 2π/60. Units: SI on the one side, the named unit on the other.

use uom::si::f64::{
    AngularVelocity, Area, ElectricCharge, ElectricalResistance, Energy, Length, Mass, Pressure,
    ThermodynamicTemperature, Time, Velocity,
};
use uom::si::{
    angular_velocity::revolution_per_minute,
    area::square_foot,
    electric_charge::milliampere_hour,
    electrical_resistance::milliohm,
    energy::watt_hour,
    length::{foot, inch, millimeter},
    mass::pound,
    pressure::{hectopascal, inch_of_mercury},
    thermodynamic_temperature::{degree_celsius, degree_fahrenheit},
    time::minute,
    velocity::{foot_per_minute, kilometer_per_hour, knot, mile_per_hour},
};

/// A unit of entry or display.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[allow(missing_docs, reason = "the names are the documentation")]
pub enum Unit {
    Kilogram,
    Pound,
    Metre,
    Foot,
    Millimetre,
    Inch,
    SquareMetre,
    SquareFoot,
    Hectopascal,
    InchOfMercury,
    Celsius,
    Fahrenheit,
    Percent,
    One,
    MetrePerSecond,
    KilometrePerHour,
    MilePerHour,
    Knot,
    FootPerMinute,
    Second,
    Minute,
    MilliampereHour,
    Volt,
    Milliohm,
    Ohm,
    Ampere,
    Watt,
    WattHour,
    RpmPerVolt,
    Rpm,
    Newton,
    CRate,
    KilogramPerCubicMetre,
    Count,
    Pascal,
    Kelvin,
    Coulomb,
    RadianPerSecond,
    RadianPerSecondPerVolt,
}

impl Unit {
    /// What stands behind the number; empty for a plain number.
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::Kilogram => "kg",
            Self::Pound => "lb",
            Self::Metre => "m",
            Self::Foot => "ft",
            Self::Millimetre => "mm",
            Self::Inch => "in",
            Self::SquareMetre => "m²",
            Self::SquareFoot => "ft²",
            Self::Hectopascal => "hPa",
            Self::InchOfMercury => "inHg",
            Self::Celsius => "°C",
            Self::Fahrenheit => "°F",
            Self::Percent => "%",
            Self::One | Self::Count => "",
            Self::MetrePerSecond => "m/s",
            Self::KilometrePerHour => "km/h",
            Self::MilePerHour => "mph",
            Self::Knot => "kt",
            Self::FootPerMinute => "ft/min",
            Self::Second => "s",
            Self::Minute => "min",
            Self::MilliampereHour => "mAh",
            Self::Volt => "V",
            Self::Milliohm => "mΩ",
            Self::Ohm => "Ω",
            Self::Ampere => "A",
            Self::Watt => "W",
            Self::WattHour => "Wh",
            Self::RpmPerVolt => "rpm/V",
            Self::Rpm => "rpm",
            Self::Newton => "N",
            Self::CRate => "C",
            Self::KilogramPerCubicMetre => "kg/m³",
            Self::Pascal => "Pa",
            Self::Kelvin => "K",
            Self::Coulomb => "A·s",
            Self::RadianPerSecond => "rad/s",
            Self::RadianPerSecondPerVolt => "rad/s/V",
        }
    }

    /// Decimals that a field keeps: finer than any scale or gauge in the field reads.
    pub const fn decimals(self) -> u8 {
        match self {
            Self::Count
            | Self::Second
            | Self::MilliampereHour
            | Self::RpmPerVolt
            | Self::Rpm
            | Self::FootPerMinute
            | Self::Pascal
            | Self::Coulomb => 0,
            Self::Metre
            | Self::Foot
            | Self::Millimetre
            | Self::Hectopascal
            | Self::Celsius
            | Self::Fahrenheit
            | Self::Percent
            | Self::Minute
            | Self::MetrePerSecond
            | Self::KilometrePerHour
            | Self::MilePerHour
            | Self::Knot
            | Self::Watt
            | Self::WattHour
            | Self::CRate
            | Self::Kelvin
            | Self::RadianPerSecond => 1,
            Self::Inch
            | Self::InchOfMercury
            | Self::Milliohm
            | Self::Ampere
            | Self::Newton
            | Self::RadianPerSecondPerVolt => 2,
            Self::Kilogram
            | Self::Pound
            | Self::SquareMetre
            | Self::SquareFoot
            | Self::Volt
            | Self::KilogramPerCubicMetre => 3,
            Self::One | Self::Ohm => 4,
        }
    }

    /// From this unit to SI.
    pub fn to_si(self, shown: f64) -> f64 {
        match self {
            Self::Pound => Mass::new::<pound>(shown).value,
            Self::Foot => Length::new::<foot>(shown).value,
            Self::Millimetre => Length::new::<millimeter>(shown).value,
            Self::Inch => Length::new::<inch>(shown).value,
            Self::SquareFoot => Area::new::<square_foot>(shown).value,
            Self::Hectopascal => Pressure::new::<hectopascal>(shown).value,
            Self::InchOfMercury => Pressure::new::<inch_of_mercury>(shown).value,
            Self::Celsius => ThermodynamicTemperature::new::<degree_celsius>(shown).value,
            Self::Fahrenheit => ThermodynamicTemperature::new::<degree_fahrenheit>(shown).value,
            Self::Percent => shown / 100.0,
            Self::Minute => Time::new::<minute>(shown).value,
            Self::KilometrePerHour => Velocity::new::<kilometer_per_hour>(shown).value,
            Self::MilePerHour => Velocity::new::<mile_per_hour>(shown).value,
            Self::Knot => Velocity::new::<knot>(shown).value,
            Self::FootPerMinute => Velocity::new::<foot_per_minute>(shown).value,
            Self::MilliampereHour => ElectricCharge::new::<milliampere_hour>(shown).value,
            Self::Milliohm => ElectricalResistance::new::<milliohm>(shown).value,
            Self::WattHour => Energy::new::<watt_hour>(shown).value,
            Self::RpmPerVolt | Self::Rpm => AngularVelocity::new::<revolution_per_minute>(shown).value,
            Self::Kilogram
            | Self::Metre
            | Self::SquareMetre
            | Self::One
            | Self::MetrePerSecond
            | Self::Second
            | Self::Volt
            | Self::Ohm
            | Self::Ampere
            | Self::Watt
            | Self::Newton
            | Self::CRate
            | Self::KilogramPerCubicMetre
            | Self::Count
            | Self::Pascal
            | Self::Kelvin
            | Self::Coulomb
            | Self::RadianPerSecond
            | Self::RadianPerSecondPerVolt => shown,
        }
    }

    /// From this unit to another of the same kind; the same number where it is the same unit.
    pub fn to(self, other: Self, value: f64) -> f64 {
        if self == other { value } else { other.from_si(self.to_si(value)) }
    }

    /// From SI to this unit.
    pub fn from_si(self, si: f64) -> f64 {
        // Each unit is a straight line; its slope and start come from the table above, so the two ways cannot differ.
        let start = self.to_si(0.0);
        (si - start) / (self.to_si(1.0) - start)
    }
}
