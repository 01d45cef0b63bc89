//! Every unit a number is typed or shown in, with its way to and from SI.
//!
//! Formula: the `uom` crate's unit tables; k_V = rpm/V · 2π/60. Units: SI on the one side, the named unit on the other.

use super::units::Choice;
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

/// Its name here, what stands behind the number, decimals that a field keeps (finer than any scale or gauge in the field
/// reads), what a person may choose it for, and the way to SI.
macro_rules! units {
    ($($unit:ident, $symbol:literal, $decimals:literal, [$($choice:ident),*], |$shown:ident| $si:expr;)+) => {
        /// A unit of entry or display.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
        #[allow(missing_docs, reason = "the names are the documentation")]
        pub enum Unit {
            $($unit,)+
        }

        #[allow(clippy::match_same_arms, reason = "one row a unit")]
        impl Unit {
            /// All of them, in the order a list of choices has.
            pub const ALL: [Self; [$($symbol),+].len()] = [$(Self::$unit),+];

            /// What stands behind the number; empty for a plain number.
            pub const fn symbol(self) -> &'static str {
                match self { $(Self::$unit => $symbol),+ }
            }

            /// Decimals that a field keeps.
            pub const fn decimals(self) -> u8 {
                match self { $(Self::$unit => $decimals),+ }
            }

            /// What a person may choose it for.
            pub const fn choices(self) -> &'static [Choice] {
                match self { $(Self::$unit => &[$(Choice::$choice),*]),+ }
            }

            /// From this unit to SI.
            pub fn to_si(self, shown: f64) -> f64 {
                match self { $(Self::$unit => { let $shown = shown; $si })+ }
            }
        }
    };
}

units! {
    Kilogram, "kg", 3, [Mass], |shown| shown;
    Pound, "lb", 3, [Mass], |shown| Mass::new::<pound>(shown).value;
    Metre, "m", 1, [Distance], |shown| shown;
    Foot, "ft", 1, [Distance], |shown| Length::new::<foot>(shown).value;
    Millimetre, "mm", 1, [Part], |shown| Length::new::<millimeter>(shown).value;
    Inch, "in", 2, [Part], |shown| Length::new::<inch>(shown).value;
    SquareMetre, "m²", 3, [], |shown| shown;
    SquareFoot, "ft²", 3, [], |shown| Area::new::<square_foot>(shown).value;
    Hectopascal, "hPa", 1, [Pressure], |shown| Pressure::new::<hectopascal>(shown).value;
    InchOfMercury, "inHg", 2, [Pressure], |shown| Pressure::new::<inch_of_mercury>(shown).value;
    Celsius, "°C", 1, [Temperature], |shown| ThermodynamicTemperature::new::<degree_celsius>(shown).value;
    Fahrenheit, "°F", 1, [Temperature], |shown| ThermodynamicTemperature::new::<degree_fahrenheit>(shown).value;
    Percent, "%", 1, [], |shown| shown / 100.0;
    One, "", 4, [], |shown| shown;
    KilometrePerHour, "km/h", 1, [Speed], |shown| Velocity::new::<kilometer_per_hour>(shown).value;
    MilePerHour, "mph", 1, [Speed], |shown| Velocity::new::<mile_per_hour>(shown).value;
    Knot, "kt", 1, [Speed], |shown| Velocity::new::<knot>(shown).value;
    MetrePerSecond, "m/s", 1, [Speed, VerticalSpeed], |shown| shown;
    FootPerMinute, "ft/min", 0, [VerticalSpeed], |shown| Velocity::new::<foot_per_minute>(shown).value;
    Second, "s", 0, [], |shown| shown;
    Minute, "min", 1, [], |shown| Time::new::<minute>(shown).value;
    MilliampereHour, "mAh", 0, [], |shown| ElectricCharge::new::<milliampere_hour>(shown).value;
    Volt, "V", 3, [], |shown| shown;
    Milliohm, "mΩ", 2, [], |shown| ElectricalResistance::new::<milliohm>(shown).value;
    Ohm, "Ω", 4, [], |shown| shown;
    Ampere, "A", 2, [], |shown| shown;
    Watt, "W", 1, [], |shown| shown;
    WattHour, "Wh", 1, [], |shown| Energy::new::<watt_hour>(shown).value;
    RpmPerVolt, "rpm/V", 0, [], |shown| AngularVelocity::new::<revolution_per_minute>(shown).value;
    Rpm, "rpm", 0, [], |shown| AngularVelocity::new::<revolution_per_minute>(shown).value;
    Newton, "N", 2, [], |shown| shown;
    CRate, "C", 1, [], |shown| shown;
    KilogramPerCubicMetre, "kg/m³", 3, [], |shown| shown;
    Count, "", 0, [], |shown| shown;
    Pascal, "Pa", 0, [], |shown| shown;
    Kelvin, "K", 1, [], |shown| shown;
    Coulomb, "A·s", 0, [], |shown| shown;
    RadianPerSecond, "rad/s", 1, [], |shown| shown;
    RadianPerSecondPerVolt, "rad/s/V", 2, [], |shown| shown;
    Degree, "°", 1, [], |shown| shown.to_radians();
    Radian, "rad", 4, [], |shown| shown;
}

impl Unit {
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
