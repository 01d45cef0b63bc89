//! Words for ranges in the file's own units, points in body axes, and core's refusals as the document's.

use liftmargin_core::frame::Position;
use liftmargin_core::input_error::InputError;
use liftmargin_core::input_range::{InputRange, Kind};
use liftmargin_core::units::Length;
use uom::si::length::meter;

use crate::error::DocumentError;
use crate::fields::{Field, Number};
use crate::present::Unit;

/// A point in body axes, forward, right, down.
pub(crate) fn position<T>(axes: [&'static Field<T>; 3], thing: &T) -> Result<Position, DocumentError> {
    let [forward, right, down] = axes;
    let along = |axis: &'static Field<T>| axis.si(thing).map(Length::new::<meter>);
    Ok(Position { forward: along(forward)?, right: along(right)?, down: along(down)? })
}

/// A range in the file's own unit: `0 to 60 kg`. Rounded inward to six digits, so that each end is itself allowed.
pub(crate) fn allowed(number: &Number) -> String {
    range(number.range, number.unit)
}

/// As `allowed`, for a figure that core derives and the file does not hold: in SI.
pub(crate) fn allowed_si(bound: &InputRange) -> String {
    range(bound, si_unit(bound.kind))
}

fn range(bound: &InputRange, unit: Unit) -> String {
    let own = |si_value: f64| unit.from_si(si_value);
    let (least, greatest) = (inward(own(bound.min), f64::ceil), inward(own(bound.max), f64::floor));
    format!("{least} to {greatest} {}", unit.symbol()).trim_end().to_owned()
}

/// The SI unit of a kind.
const fn si_unit(kind: Kind) -> Unit {
    match kind {
        Kind::Mass => Unit::Kilogram,
        Kind::Length | Kind::PartLength => Unit::Metre,
        Kind::Area => Unit::SquareMetre,
        Kind::Angle => Unit::Radian,
        Kind::Pressure => Unit::Pascal,
        Kind::Temperature => Unit::Kelvin,
        Kind::Speed => Unit::MetrePerSecond,
        Kind::Duration => Unit::Second,
        Kind::Charge => Unit::Coulomb,
        Kind::Potential => Unit::Volt,
        Kind::Resistance => Unit::Ohm,
        Kind::Current => Unit::Ampere,
        Kind::Power => Unit::Watt,
        Kind::VelocityConstant => Unit::RadianPerSecondPerVolt,
        Kind::Force => Unit::Newton,
        Kind::RotationalSpeed => Unit::RadianPerSecond,
        Kind::CRate => Unit::CRate,
        Kind::Density => Unit::KilogramPerCubicMetre,
        Kind::Share | Kind::Number | Kind::Count => Unit::One,
    }
}

fn inward(value: f64, round: fn(f64) -> f64) -> f64 {
    if value == 0.0 {
        return 0.0;
    }
    let scale = 10f64.powi(5 - value.abs().log10().floor() as i32);
    let scaled = value * scale;
    // Conversion noise of 1e-9 is not a reason to round a whole digit.
    let nearest = scaled.round();
    if (scaled - nearest).abs() < 1e-6 { nearest / scale } else { round(scaled) / scale }
}

/// A value in an error: one of very many digits by its power of ten.
pub(crate) fn shown(value: f64) -> String {
    let is_plain = value == 0.0 || !value.is_finite() || (1e-9..1e15).contains(&value.abs());
    if is_plain { value.to_string() } else { format!("{value:e}") }
}

/// A refusal of core, at the thing it concerns: a figure that core derives is named below it by its standard name.
pub(crate) fn refused(parent: &str, refusal: InputError) -> DocumentError {
    match refusal {
        InputError::OutOfRange { range, value } => DocumentError::Refused {
            path: crate::model::below(parent, range.field),
            value: shown(value),
            refusal,
            number: None,
        },
        refusal => {
            DocumentError::Refused { path: parent.to_owned(), value: String::new(), refusal, number: None }
        }
    }
}
