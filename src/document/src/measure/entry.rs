//! A typed text to an SI value within core's range, or a fault in plain words; and the value back as field text.

use liftmargin_core::input_range::{InputRange, Kind};

use super::labels::label;
use super::number::{self, NumberFault};
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
    ThousandsOrDecimals,
    /// A part of a thing.
    NotWhole,
    /// Outside the documented range.
    OutOfRange {
        /// The range.
        range: &'static InputRange,
    },
}

impl EntryFault {
    /// What is wrong and what is allowed, in the user's units, for a field with this range.
    pub fn words(&self, range: &InputRange, units: Units) -> String {
        self.words_for(label(range.field), range, units)
    }

    /// As `words`, for a field of another name than its range.
    pub fn words_for(&self, name: &str, range: &InputRange, units: Units) -> String {
        let range = range_words(range, units);
        match self {
            Self::Empty => format!("{name} is needed: {range}."),
            Self::NotANumber => format!("{name} takes a number, {range}."),
            Self::TwoMarks => format!("Write {name} with one decimal mark and no others: 1234.5 or 1234,5."),
            Self::ThousandsOrDecimals => {
                format!("Read as thousands or as decimals? Write {name} as 1200 or as 1.2, {range}.")
            }
            Self::NotWhole => format!("{name} takes a whole number, {range}."),
            Self::OutOfRange { .. } => format!("{name} must be {range}."),
        }
    }
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
    let bare = text.trim();
    let bare = if unit.symbol().is_empty() { bare } else { bare.strip_suffix(unit.symbol()).unwrap_or(bare) };
    let shown = number::read(bare, unit.counts_in_thousands()).map_err(|fault| match fault {
        NumberFault::Empty => EntryFault::Empty,
        NumberFault::NotANumber => EntryFault::NotANumber,
        NumberFault::TwoMarks => EntryFault::TwoMarks,
        NumberFault::ThousandsOrDecimals => EntryFault::ThousandsOrDecimals,
    })?;
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

/// "between 0 and 60 kg": the range in the user's unit, rounded inward so that whatever the words allow is taken.
pub fn range_words(range: &InputRange, units: Units) -> String {
    let unit = units.of(range);
    let (least, greatest) = (unit.from_si(range.min), unit.from_si(range.max));
    let least = round_inward(least, unit, f64::ceil);
    let greatest = round_inward(greatest, unit, f64::floor);
    let mark = units.decimal_mark();
    let least = number::write_trimmed(least, usize::from(unit.decimals()), mark);
    let greatest = number::write_trimmed(greatest, usize::from(unit.decimals()), mark);
    let space = if unit.symbol().is_empty() { "" } else { "\u{a0}" };
    format!("between {least} and {greatest}{space}{}", unit.symbol())
}

fn round_inward(shown: f64, unit: Unit, toward: fn(f64) -> f64) -> f64 {
    let scale = 10_f64.powi(i32::from(unit.decimals()));
    let scaled = shown * scale;
    // −40 °C comes back from kelvin as −40.000000000000006.
    let scaled = if (scaled - scaled.round()).abs() < 1e-6 { scaled.round() } else { toward(scaled) };
    scaled / scale
}
