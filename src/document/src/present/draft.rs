//! The text in a number field while somebody types: what stands there, what it means, what is wrong with it.
//!
//! While the text is wrong the value from before the typing stays in use: the 1 on the way to 1e9 was never meant. The
//! text is never rewritten under the cursor.

use super::entry::{EntryFault, read, show_number};
use super::units::Units;
use crate::fields::Number;

/// A field being edited.
#[derive(Debug, Clone, PartialEq)]
pub struct Draft {
    number: &'static Number,
    text: String,
    good: Option<f64>,
    /// The value when the cursor came.
    before: Option<f64>,
    fault: Option<EntryFault>,
}

impl Draft {
    /// A field showing this value, in the file's unit. One that is optional takes an empty text as no value.
    pub fn new(number: &'static Number, value: Option<f64>, units: Units) -> Self {
        let mut draft = Self { number, text: String::new(), good: value, before: value, fault: None };
        draft.settle(units);
        draft
    }

    /// The text to show.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The value in use, in the file's unit.
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
        let (value, fault) = match read(text, self.number, units) {
            Ok(value) => (Some(value), None),
            Err(EntryFault::Empty) if self.number.optional => (None, None),
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
            self.text = self.good.map(|value| show_number(value, self.number, units)).unwrap_or_default();
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
        let words = self.fault?.words_for(self.number.label, self.number.range, units);
        let Some(value) = self.good else { return Some(words) };
        let in_use = show_number(value, self.number, units);
        Some(match units.of(self.number.range).symbol() {
            "" => format!("{words} Still counting with {in_use}."),
            symbol => format!("{words} Still counting with {in_use}\u{a0}{symbol}."),
        })
    }
}
