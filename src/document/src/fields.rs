//! One declaration for each number that a crew can enter: where it stands in the file, its unit there, its range, its
//! name and help, and how it is read and put.
//!
//! The tables themselves stand beside the records, in `model/`. Forms, checks, the way to core, words of errors and
//! import all read them, and know no number by name. Values are in the file's units; `si` is the one way to core.

use liftmargin_core::input_range::{InputRange, Kind};

use crate::error::DocumentError;
use crate::model::Bundle;
use crate::present::Unit;
use crate::record::{List, Record};

/// What there is to say about a number.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Number {
    /// Its path below what holds it: `profile.height_m`.
    pub path: &'static str,
    /// Its unit in the file.
    pub unit: Unit,
    /// Its range.
    pub range: &'static InputRange,
    /// Whether it may be left out.
    pub optional: bool,
    /// Its name for people.
    pub label: &'static str,
    /// One line of help.
    pub help: &'static str,
}

impl Number {
    /// A value in the file's unit as SI, held against the range.
    ///
    /// # Errors
    /// `Refused` out of range, not whole where it counts things, or not a number.
    pub fn check(&'static self, value: f64) -> Result<f64, DocumentError> {
        let in_range =
            self.range.check(self.unit.to_si(value)).map_err(|refusal| DocumentError::Refused {
                path: self.path.to_owned(),
                value: crate::quantity::shown(value),
                refusal,
                number: Some(self),
            })?;
        if self.range.kind == Kind::Count && value.fract() != 0.0 {
            return Err(DocumentError::Contradiction {
                path: self.path.to_owned(),
                value: crate::quantity::shown(value),
                allowed: "a whole number".to_owned(),
            });
        }
        Ok(in_range)
    }
}

/// A number of a `T` of the file.
pub struct Field<T: 'static> {
    /// What there is to say about it.
    pub number: Number,
    pub(crate) get: fn(&T) -> Option<f64>,
    pub(crate) set: fn(&mut T, Option<f64>),
}

impl<T> Field<T> {
    /// The value in the file's unit.
    pub fn get(&self, thing: &T) -> Option<f64> {
        (self.get)(thing)
    }

    /// Puts a value in the file's unit. Nothing is put where a value is needed and none is given, nor one that no file
    /// can hold.
    pub fn set(&self, thing: &mut T, value: Option<f64>) {
        let is_good = value.map_or(self.number.optional, f64::is_finite);
        if is_good {
            (self.set)(thing, value);
        }
    }

    /// The value in SI, checked; for a number that must be there.
    ///
    /// # Errors
    /// `Refused`, and `Missing` where there is none.
    pub fn si(&'static self, thing: &T) -> Result<f64, DocumentError> {
        self.si_if_there(thing)?.ok_or_else(|| DocumentError::Missing {
            path: self.number.path.to_owned(),
            allowed: crate::quantity::allowed(&self.number),
        })
    }

    /// The value in SI, checked; none where there is none.
    ///
    /// # Errors
    /// `Refused`.
    pub fn si_if_there(&'static self, thing: &T) -> Result<Option<f64>, DocumentError> {
        self.get(thing).map(|value| self.number.check(value)).transpose()
    }
}

/// A number of a stored record, whatever the record is.
pub trait Entry: Sync {
    /// The list of the records that have it.
    fn list(&self) -> List;
    /// What there is to say about it.
    fn number(&self) -> &Number;
    /// The value of one record, in the file's unit.
    fn value(&self, bundle: &Bundle, id: &str) -> Option<f64>;
    /// Puts a value, as `Field::set` does.
    fn put(&self, bundle: &mut Bundle, id: &str, value: Option<f64>);
}

impl<T: Record> Entry for Field<T> {
    fn list(&self) -> List {
        T::LIST
    }

    fn number(&self) -> &Number {
        &self.number
    }

    fn value(&self, bundle: &Bundle, id: &str) -> Option<f64> {
        T::find(bundle, id).and_then(|(_, thing)| self.get(thing))
    }

    fn put(&self, bundle: &mut Bundle, id: &str, value: Option<f64>) {
        if let Some(thing) = T::find_mut(bundle, id) {
            self.set(thing, value);
        }
        crate::guide::entered(bundle, T::LIST, id, Some(self.number.path));
    }
}

/// Numbers that stand together on a screen; no two of them have one name.
pub type Group = &'static [&'static dyn Entry];

/// A word of a stored record: a reference, or one of the file's keys.
pub struct Word {
    /// The list of the records that have it.
    pub list: List,
    /// Its path below the record.
    pub path: &'static str,
    /// What an undo takes back, in words.
    pub name: &'static str,
    pub(crate) get: for<'a> fn(&'a Bundle, &str) -> Option<&'a String>,
    pub(crate) place: for<'a> fn(&'a mut Bundle, &str) -> Option<&'a mut String>,
}

impl Word {
    /// The word of one record; empty where the record is gone.
    pub fn get(&self, bundle: &Bundle, id: &str) -> String {
        (self.get)(bundle, id).cloned().unwrap_or_default()
    }

    /// Puts another word.
    pub fn set(&self, bundle: &mut Bundle, id: &str, word: String) {
        if let Some(place) = (self.place)(bundle, id) {
            *place = word;
        }
    }
}

/// A word, by its path in its record.
macro_rules! word {
    ($kind:ident, $name:literal, $first:ident $(. $rest:ident)*) => {
        $crate::fields::Word {
            list: <$kind as $crate::record::Record>::LIST,
            path: concat!(stringify!($first) $(, ".", stringify!($rest))*),
            name: $name,
            get: |bundle, id| {
                <$kind as $crate::record::Record>::find(bundle, id).map(|(_, thing)| &thing.$first$(.$rest)*)
            },
            place: |bundle, id| {
                <$kind as $crate::record::Record>::find_mut(bundle, id).map(|thing| &mut thing.$first$(.$rest)*)
            },
        }
    };
}
pub(crate) use word;

/// A number: how it is kept, path, unit in the file, range, name, help.
macro_rules! field {
    (@ [$($path:expr),*] $optional:literal, $unit:ident, $range:expr, $label:literal, $help:literal, $get:expr, $set:expr) => {
        $crate::fields::Field {
            number: $crate::fields::Number {
                path: concat!($($path),*),
                unit: $crate::present::Unit::$unit,
                range: &$range,
                optional: $optional,
                label: $label,
                help: $help,
            },
            get: $get,
            set: $set,
        }
    };
    (optional count $first:ident $(. $rest:ident)*, $unit:ident, $range:expr, $label:literal, $help:literal) => {
        $crate::fields::field!(@ [stringify!($first) $(, ".", stringify!($rest))*] true, $unit, $range, $label, $help,
            |thing| thing.$first$(.$rest)*.map(f64::from),
            |thing, value| thing.$first$(.$rest)* = value.map(|value| value as u32))
    };
    (optional $first:ident $(. $rest:ident)*, $unit:ident, $range:expr, $label:literal, $help:literal) => {
        $crate::fields::field!(@ [stringify!($first) $(, ".", stringify!($rest))*] true, $unit, $range, $label, $help,
            |thing| thing.$first$(.$rest)*,
            |thing, value| thing.$first$(.$rest)* = value)
    };
    // In memory it may be missing, and nothing works without it.
    (needed $first:ident $(. $rest:ident)*, $unit:ident, $range:expr, $label:literal, $help:literal) => {
        $crate::fields::field!(@ [stringify!($first) $(, ".", stringify!($rest))*] false, $unit, $range, $label, $help,
            |thing| thing.$first$(.$rest)*,
            |thing, value| thing.$first$(.$rest)* = value)
    };
    (count $first:ident $(. $rest:ident)*, $unit:ident, $range:expr, $label:literal, $help:literal) => {
        $crate::fields::field!(@ [stringify!($first) $(, ".", stringify!($rest))*] false, $unit, $range, $label, $help,
            |thing| Some(f64::from(thing.$first$(.$rest)*)),
            |thing, value| thing.$first$(.$rest)* = value.unwrap_or_default() as u32)
    };
    (axis $index:literal of $first:ident $(. $rest:ident)*, $label:literal, $help:literal) => {
        $crate::fields::field!(@ [stringify!($first) $(, ".", stringify!($rest))*, "[", $index, "]"] false, Metre,
            liftmargin_core::frame::Position::OFFSET, $label, $help,
            |thing| Some(thing.$first$(.$rest)*[$index]),
            |thing, value| thing.$first$(.$rest)*[$index] = value.unwrap_or_default())
    };
    ($first:ident $(. $rest:ident)*, $unit:ident, $range:expr, $label:literal, $help:literal) => {
        $crate::fields::field!(@ [stringify!($first) $(, ".", stringify!($rest))*] false, $unit, $range, $label, $help,
            |thing| Some(thing.$first$(.$rest)*),
            |thing, value| thing.$first$(.$rest)* = value.unwrap_or_default())
    };
}
pub(crate) use field;

/// A group of a record's numbers, each by a name of its own too.
macro_rules! fields {
    ($(#[$doc:meta])* $group:ident of $record:ty { $($name:ident = ($($field:tt)*);)* }) => {
        $(
            #[allow(missing_docs, reason = "its label and help say what it is")]
            pub static $name: $crate::fields::Field<$record> = $crate::fields::field!($($field)*);
        )*
        $(#[$doc])*
        pub static $group: $crate::fields::Group = &[$(&$name),*];
    };
}
pub(crate) use fields;

/// Numbers of a part that stands many times in a record: a bench row, a string.
macro_rules! part_fields {
    ($part:ty { $($name:ident = ($($field:tt)*);)* }) => {
        $(
            #[allow(missing_docs, reason = "its label and help say what it is")]
            pub static $name: $crate::fields::Field<$part> = $crate::fields::field!($($field)*);
        )*
    };
}
pub(crate) use part_fields;
