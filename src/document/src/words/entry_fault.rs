//! What stands beside a field whose text is not taken.

use liftmargin_core::input_range::InputRange;

use super::labels::label;
use crate::present::EntryFault;
use crate::present::number;
use crate::present::unit::Unit;
use crate::present::units::Units;

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
            Self::ThousandsOrDecimals { thousands, decimals } => {
                let [thousands, decimals] =
                    [thousands, decimals].map(|value| number::write_trimmed(*value, 3, units.decimal_mark()));
                format!("Is that {thousands} or {decimals}? Write it without a mark, or with other decimals.")
            }
            Self::NotWhole => format!("{name} takes a whole number, {range}."),
            Self::OutOfRange { .. } => format!("{name} must be {range}."),
        }
    }
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
