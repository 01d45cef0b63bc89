//! A unit typed behind a number, whatever unit the field shows: 26 in, 9 m/s, 16 Ah.

use liftmargin_core::input_range::Kind;

use super::unit::Unit;

/// Quantity, what people write, the unit meant, how many of it.
type Row = (Kind, &'static [&'static str], Unit, f64);

/// Letters that ASCII has are in lower case; a letter that means two units in two cases stands as people mean it in such a field.
static TYPED: [Row; 45] = [
    (Kind::Mass, &["kg", "kilo", "kilos"], Unit::Kilogram, 1.0),
    (Kind::Mass, &["g", "gr", "gram", "grams"], Unit::Kilogram, 0.001),
    (Kind::Mass, &["lb", "lbs", "pounds"], Unit::Pound, 1.0),
    (Kind::Mass, &["oz"], Unit::Pound, 0.0625),
    (Kind::Length, &["mm"], Unit::Millimetre, 1.0),
    (Kind::Length, &["cm"], Unit::Millimetre, 10.0),
    (Kind::Length, &["m"], Unit::Metre, 1.0),
    (Kind::Length, &["km"], Unit::Metre, 1000.0),
    (Kind::Length, &["in", "inch", "inches", "\"", "\u{2033}"], Unit::Inch, 1.0),
    (Kind::Length, &["ft", "feet", "foot", "'"], Unit::Foot, 1.0),
    (Kind::Speed, &["m/s", "ms"], Unit::MetrePerSecond, 1.0),
    (Kind::Speed, &["km/h", "kmh", "kph"], Unit::KilometrePerHour, 1.0),
    (Kind::Speed, &["mph"], Unit::MilePerHour, 1.0),
    (Kind::Speed, &["kt", "kts", "kn", "knots"], Unit::Knot, 1.0),
    (Kind::Speed, &["ft/min", "fpm"], Unit::FootPerMinute, 1.0),
    (Kind::Temperature, &["°c", "c"], Unit::Celsius, 1.0),
    (Kind::Temperature, &["°f", "f"], Unit::Fahrenheit, 1.0),
    (Kind::Temperature, &["k"], Unit::Kelvin, 1.0),
    (Kind::Pressure, &["hpa", "mbar", "mb"], Unit::Hectopascal, 1.0),
    (Kind::Pressure, &["inhg"], Unit::InchOfMercury, 1.0),
    (Kind::Pressure, &["pa"], Unit::Pascal, 1.0),
    (Kind::Share, &["%"], Unit::Percent, 1.0),
    (Kind::Duration, &["s", "sec"], Unit::Second, 1.0),
    (Kind::Duration, &["min"], Unit::Minute, 1.0),
    (Kind::Charge, &["mah"], Unit::MilliampereHour, 1.0),
    (Kind::Charge, &["ah"], Unit::MilliampereHour, 1000.0),
    (Kind::Potential, &["v", "volt", "volts"], Unit::Volt, 1.0),
    (Kind::Potential, &["mv"], Unit::Volt, 0.001),
    (Kind::Resistance, &["mω", "mΩ", "m\u{2126}", "mohm"], Unit::Milliohm, 1.0),
    (Kind::Resistance, &["ω", "Ω", "\u{2126}", "ohm"], Unit::Ohm, 1.0),
    (Kind::Current, &["a", "amp", "amps"], Unit::Ampere, 1.0),
    (Kind::Current, &["ma"], Unit::Ampere, 0.001),
    (Kind::Power, &["w"], Unit::Watt, 1.0),
    (Kind::Power, &["kw"], Unit::Watt, 1000.0),
    (Kind::VelocityConstant, &["rpm/v", "kv"], Unit::RpmPerVolt, 1.0),
    (Kind::Force, &["n"], Unit::Newton, 1.0),
    (Kind::Force, &["kgf"], Unit::Newton, 9.806_65),
    (Kind::Force, &["gf"], Unit::Newton, 9.806_65e-3),
    (Kind::RotationalSpeed, &["rpm", "1/min"], Unit::Rpm, 1.0),
    (Kind::Angle, &["°", "deg"], Unit::Degree, 1.0),
    (Kind::CRate, &["c"], Unit::CRate, 1.0),
    (Kind::Density, &["kg/m³", "kg/m3"], Unit::KilogramPerCubicMetre, 1.0),
    (Kind::Area, &["m²", "m2"], Unit::SquareMetre, 1.0),
    (Kind::Area, &["ft²", "ft2"], Unit::SquareFoot, 1.0),
    (Kind::Area, &["cm²", "cm2"], Unit::SquareMetre, 1e-4),
];

/// What stands before a typed unit, and how its number becomes one in the field's own unit. A unit that is none of this
/// quantity stays in the text, which is then no number.
pub(super) fn split(text: &str, kind: Kind, own: Unit) -> (String, Conversion) {
    let kind = if kind == Kind::PartLength { Kind::Length } else { kind };
    let text = text.trim().to_ascii_lowercase();
    let of_kind = TYPED.iter().filter(|row| row.0 == kind);
    let names = of_kind.flat_map(|row| row.1.iter().map(move |name| (*name, row.2, row.3)));
    let before = |name: &str| {
        let number = text.strip_suffix(name)?.trim_end();
        number.ends_with(|c: char| c.is_ascii_digit() || matches!(c, '.' | ',')).then(|| number.to_owned())
    };
    let fitting = names.filter_map(|(name, typed, factor)| Some((before(name)?, typed, factor)));
    // The longest unit leaves the shortest number.
    match fitting.min_by_key(|(number, ..)| number.len()) {
        Some((number, typed, factor)) => (number, Conversion { typed, factor, own }),
        None => (text, Conversion { typed: own, factor: 1.0, own }),
    }
}

/// From the typed unit to the field's own.
#[derive(Debug, Clone, Copy)]
pub(super) struct Conversion {
    typed: Unit,
    factor: f64,
    own: Unit,
}

impl Conversion {
    /// The number in the field's own unit.
    pub fn of(self, typed: f64) -> f64 {
        self.typed.to(self.own, typed * self.factor)
    }
}
