//! A typed text to an SI value within core's range, or a fault in plain words; and the value back as field text.

use liftmargin_core::input_range::{InputRange, Kind};

use super::number::{self, NumberFault};
use super::typed_unit;
use super::unit::Unit;
use super::units::Units;
use crate::fields::Number;

/// Why a typed text is not taken.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum EntryFault {
    /// Nothing was typed.
    Empty,
    /// Not a number.
    NotANumber,
    /// Comma and point together, or several of one.
    TwoMarks,
    /// 1,200 where both 1200 and 1.2 make sense.
    ThousandsOrDecimals {
        /// The one reading, in the user's unit.
        thousands: f64,
        /// The other.
        decimals: f64,
    },
    /// A part of a thing.
    NotWhole,
    /// Outside the documented range.
    OutOfRange {
        /// The range.
        range: &'static InputRange,
    },
}

/// Reads a text typed in the user's unit for this range, to SI.
///
/// # Errors
/// `EntryFault`: no clear number, or outside the range.
pub fn parse(text: &str, range: &'static InputRange, units: Units) -> Result<f64, EntryFault> {
    shown_number(text, range, units).map(|shown| units.of(range).to_si(shown))
}

/// Reads a text typed in the user's unit, to the file's: the same number where the two are the same.
///
/// # Errors
/// As `parse`.
pub fn read(text: &str, number: &'static Number, units: Units) -> Result<f64, EntryFault> {
    let shown = shown_number(text, number.range, units)?;
    Ok(units.of(number.range).to(number.unit, shown))
}

/// The text of a field for a value in the file's unit.
pub fn show_number(value: f64, number: &Number, units: Units) -> String {
    let unit = units.of(number.range);
    write_shown(number.unit.to(unit, value), unit, units)
}

/// A typed number in the user's unit, in its range.
fn shown_number(text: &str, range: &'static InputRange, units: Units) -> Result<f64, EntryFault> {
    let unit = units.of(range);
    let (bare, conversion) = typed_unit::split(text, range.kind, unit);
    let is_in_range = |shown: f64| range.check(unit.to_si(shown)).is_ok();
    let shown = match number::read(&bare) {
        Ok(shown) => conversion.of(shown),
        // A question only where both readings can be meant.
        Err(NumberFault::ThousandsOrDecimals { thousands, decimals }) => {
            let [thousands, decimals] = [thousands, decimals].map(|typed| conversion.of(typed));
            match (is_in_range(thousands), is_in_range(decimals)) {
                (true, true) => return Err(EntryFault::ThousandsOrDecimals { thousands, decimals }),
                (true, false) => thousands,
                (false, _) => decimals,
            }
        }
        Err(NumberFault::Empty) => return Err(EntryFault::Empty),
        Err(NumberFault::NotANumber) => return Err(EntryFault::NotANumber),
        Err(NumberFault::TwoMarks) => return Err(EntryFault::TwoMarks),
    };
    range.check(unit.to_si(shown)).map_err(|_| EntryFault::OutOfRange { range })?;
    if range.kind == Kind::Count && shown.fract() != 0.0 { Err(EntryFault::NotWhole) } else { Ok(shown) }
}

/// The text of a field for this SI value: the unit's decimals, no trailing zeros, no unit.
pub fn show(si: f64, range: &InputRange, units: Units) -> String {
    let unit = units.of(range);
    write_shown(unit.from_si(si), unit, units)
}

fn write_shown(shown: f64, unit: Unit, units: Units) -> String {
    number::write_trimmed(shown, usize::from(unit.decimals()), units.decimal_mark())
}
