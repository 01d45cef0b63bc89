//! The text in a number field while somebody types: what stands there, what it means, what is wrong with it.
//!
//! While the text is wrong the value from before the typing stays in use: the 1 on the way to 1e9 was never meant. The
//! text is never rewritten under the cursor.

use liftmargin_core::input_range::InputRange;

use super::entry::{EntryFault, parse, show};
use super::units::Units;

/// A field being edited.
#[derive(Debug, Clone, PartialEq)]
pub struct Draft {
    range: &'static InputRange,
    may_be_empty: bool,
    text: String,
    good: Option<f64>,
    /// The value when the cursor came.
    before: Option<f64>,
    fault: Option<EntryFault>,
}

impl Draft {
    /// A field showing this value, SI. One that `may_be_empty` takes an empty text as no value.
    pub fn new(range: &'static InputRange, value: Option<f64>, may_be_empty: bool, units: Units) -> Self {
        let mut draft =
            Self { range, may_be_empty, text: String::new(), good: value, before: value, fault: None };
        draft.settle(units);
        draft
    }

    /// The text to show.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The value in use, SI.
    pub fn good(&self) -> Option<f64> {
        self.good
    }

    /// What is wrong with the text.
    pub fn fault(&self) -> Option<EntryFault> {
        self.fault
    }

    /// A keystroke. Returns the value to hand on where it is another one than is in use.
    pub fn typed(&mut self, text: &str, units: Units) -> Option<Option<f64>> {
        text.clone_into(&mut self.text);
        let (value, fault) = match parse(text, self.range, units) {
            Ok(value) => (Some(value), None),
            Err(EntryFault::Empty) if self.may_be_empty => (None, None),
            Err(fault) => (self.before, Some(fault)),
        };
        self.fault = fault;
        let is_new = value != self.good;
        self.good = value;
        is_new.then_some(value)
    }

    /// The cursor leaves, or the units change: a good text is written anew, a wrong one stays to be mended.
    pub fn settle(&mut self, units: Units) {
        self.before = self.good;
        if self.fault.is_none() {
            self.text = self.good.map(|value| show(value, self.range, units)).unwrap_or_default();
        }
    }

    /// The value as the setup has it now. Its own echo leaves the text alone; any other value replaces it.
    pub fn from_outside(&mut self, value: Option<f64>, units: Units) {
        if value != self.good {
            self.good = value;
            self.fault = None;
            self.before = value;
            self.settle(units);
        }
    }

    /// What stands beside the field while its text is wrong.
    pub fn message(&self, units: Units) -> Option<String> {
        let words = self.fault?.words(self.range, units);
        let Some(value) = self.good else { return Some(words) };
        let in_use = show(value, self.range, units);
        Some(match units.of(self.range).symbol() {
            "" => format!("{words} Still counting with {in_use}."),
            symbol => format!("{words} Still counting with {in_use}\u{a0}{symbol}."),
        })
    }
}
