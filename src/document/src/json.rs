//! JSON as this project reads and writes it: by way of `serde_json::Value`, with the path of whatever is wrong.
//!
//! Numbers of up to fifteen digits are kept to the last digit, and the app writes none longer.
//!
//! The records of the schema are not derived: a derived reader and writer for each of them took a sixth of what the
//! phone loads, and does not say where in the file it stumbled.

use core::cell::RefCell;
use core::fmt::Write as _;
use std::io;

use serde::Serialize as _;
use serde_json::ser::{Formatter, PrettyFormatter, Serializer};
use serde_json::{Map, Value};

/// Something that stands in a file as one value.
pub(crate) trait Part: Default {
    /// What it must be, in plain words.
    const WORDS: &'static str;

    /// From its value. Where that is not what it should be, the fault is noted and something usual is given: to stop
    /// at each field would make the reader several times as large, for a file that is refused anyway.
    fn read(value: &Value, path: &Path, faults: &Faults) -> Self;

    /// As its value.
    fn write(&self) -> Value;

    /// Whether it is written by leaving it out, where it may be left out.
    fn is_nothing(&self) -> bool {
        false
    }
}

/// A part from its value.
///
/// # Errors
/// The path of the first value that is not what it should be.
pub(crate) fn read<T: Part>(value: &Value) -> Result<T, ShapeFault> {
    let faults = Faults::default();
    let part = T::read(value, &Path::File, &faults);
    match faults.0.into_inner() {
        None => Ok(part),
        Some(fault) => Err(fault),
    }
}

/// The first fault that reading came upon.
#[derive(Default)]
pub(crate) struct Faults(RefCell<Option<ShapeFault>>);

impl Faults {
    fn note(&self, path: &Path, words: &'static str, is_missing: bool) {
        self.0.borrow_mut().get_or_insert_with(|| ShapeFault { path: path.text(), words, is_missing });
    }
}

/// Where in a file something stands.
#[derive(Clone, Copy)]
pub(crate) enum Path<'a> {
    /// The whole file.
    File,
    /// A field of an object.
    Field(&'a Path<'a>, &'a str),
    /// A place in a list.
    Place(&'a Path<'a>, usize),
}

impl Path<'_> {
    /// As text: `setups[1].profile.height_m`.
    fn text(&self) -> String {
        match self {
            Self::File => String::new(),
            Self::Field(Path::File, name) => (*name).to_owned(),
            Self::Field(parent, name) => parent.text() + "." + name,
            Self::Place(parent, index) => {
                let mut text = parent.text();
                // Writing into a String does not fail.
                let _ = write!(text, "[{index}]");
                text
            }
        }
    }
}

/// A value that is not what it should be, or is not there.
pub(crate) struct ShapeFault {
    pub(crate) path: String,
    /// What it should be.
    pub(crate) words: &'static str,
    pub(crate) is_missing: bool,
}

/// A value as indented text, fields in their own order, so that two versions can be compared line by line.
pub(crate) fn text(value: &Value) -> String {
    let mut text = Vec::new();
    let mut writer = Serializer::with_formatter(&mut text, Indented(PrettyFormatter::new()));
    // A value in memory cannot fail to be written into memory.
    if value.serialize(&mut writer).is_err() {
        return String::new();
    }
    String::from_utf8(text).unwrap_or_default()
}

/// A number as people and tables write it: a sign, digits with a point, an exponent. By way of the file's reader, so
/// that the standard library's, with its ten kilobytes of tables, need not be loaded too. Infinite beyond all numbers.
pub(crate) fn number(text: &str) -> Option<f64> {
    let (sign, bare) = match text.strip_prefix('-') {
        Some(bare) => ("-", bare),
        None => ("", text.strip_prefix('+').unwrap_or(text)),
    };
    let (digits, exponent) = bare.split_once(['e', 'E']).unwrap_or((bare, "0"));
    let (whole, part) = digits.split_once('.').unwrap_or((digits, ""));
    if whole.is_empty() && part.is_empty() {
        return None;
    }
    let whole = whole.trim_start_matches('0');
    let whole = if whole.is_empty() { "0" } else { whole };
    let value: Option<Value> = serde_json::from_str(&format!("{sign}{whole}.{part}0e{exponent}")).ok();
    // What is too large for the file's reader is still a number to whoever typed it.
    let power = exponent.trim_start_matches(['-', '+']);
    let all_digits = |text: &str| text.bytes().all(|digit| digit.is_ascii_digit());
    let is_number = !power.is_empty() && [whole, part, power].into_iter().all(all_digits);
    value
        .and_then(|value| value.as_f64())
        .or_else(|| is_number.then_some(if sign.is_empty() { f64::INFINITY } else { f64::NEG_INFINITY }))
}

/// The fields of an object while it is read.
pub(crate) struct Fields<'a> {
    object: Option<&'a Map<String, Value>>,
    path: &'a Path<'a>,
    faults: &'a Faults,
}

impl<'a> Fields<'a> {
    /// The fields of a value that must be an object.
    pub(crate) fn of(value: &'a Value, path: &'a Path<'a>, faults: &'a Faults) -> Self {
        let object = value.as_object();
        if object.is_none() {
            faults.note(path, "an object", false);
        }
        Self { object, path, faults }
    }

    /// A field; the usual value where it may be left out and is.
    pub(crate) fn part<T: Part>(&self, name: &str, may_be_left_out: bool) -> T {
        let path = Path::Field(self.path, name);
        if let Some(value) = self.object.and_then(|object| object.get(name)) {
            return T::read(value, &path, self.faults);
        }
        if !may_be_left_out {
            self.faults.note(&path, T::WORDS, true);
        }
        T::default()
    }
}

/// Puts a field into an object, unless it is nothing and may be left out.
pub(crate) fn put<T: Part>(object: &mut Map<String, Value>, name: &str, part: &T, may_be_left_out: bool) {
    if !(may_be_left_out && part.is_nothing()) {
        object.insert(name.to_owned(), part.write());
    }
}

/// Makes a record of the schema a part of the file. A field must be there, unless it is `[optional]`: left out where it
/// is nothing; or `[usual]`: always written, with a usual value where a file has none.
macro_rules! record {
    ($record:ident { $($name:ident $([$mark:ident])?),* $(,)? }) => {
        impl $crate::json::Part for $record {
            const WORDS: &'static str = "an object";

            fn read(
                value: &serde_json::Value,
                path: &$crate::json::Path,
                faults: &$crate::json::Faults,
            ) -> Self {
                let fields = $crate::json::Fields::of(value, path, faults);
                Self { $($name: fields.part(
                    stringify!($name),
                    $crate::json::record!(@may_be_left_out_when_read $($mark)?),
                )),* }
            }

            fn write(&self) -> serde_json::Value {
                let mut object = serde_json::Map::new();
                $($crate::json::put(
                    &mut object,
                    stringify!($name),
                    &self.$name,
                    $crate::json::record!(@may_be_left_out_when_written $($mark)?),
                );)*
                serde_json::Value::Object(object)
            }
        }
    };
    (@may_be_left_out_when_read) => { false };
    (@may_be_left_out_when_read $mark:ident) => { true };
    (@may_be_left_out_when_written optional) => { true };
    (@may_be_left_out_when_written $($mark:ident)?) => { false };
}
pub(crate) use record;

/// A part that is one plain value.
macro_rules! plain {
    ($kind:ty, $words:literal, $read:expr) => {
        impl Part for $kind {
            const WORDS: &'static str = $words;

            fn read(value: &Value, path: &Path, faults: &Faults) -> Self {
                let read: fn(&Value) -> Option<Self> = $read;
                read(value).unwrap_or_else(|| {
                    faults.note(path, Self::WORDS, false);
                    Self::default()
                })
            }

            fn write(&self) -> Value {
                Value::from(self.clone())
            }
        }
    };
}

plain!(f64, "a number", Value::as_f64);
plain!(u32, "a whole number", |value| value.as_u64().and_then(|number| Self::try_from(number).ok()));
plain!(bool, "true or false", Value::as_bool);
plain!(String, "a text", |value| value.as_str().map(str::to_owned));

impl<T: Part> Part for Option<T> {
    const WORDS: &'static str = T::WORDS;

    fn read(value: &Value, path: &Path, faults: &Faults) -> Self {
        if value.is_null() { None } else { Some(T::read(value, path, faults)) }
    }

    fn write(&self) -> Value {
        self.as_ref().map_or(Value::Null, T::write)
    }

    fn is_nothing(&self) -> bool {
        self.is_none()
    }
}

impl<T: Part> Part for Vec<T> {
    const WORDS: &'static str = "a list";

    fn read(value: &Value, path: &Path, faults: &Faults) -> Self {
        let Some(list) = value.as_array() else {
            faults.note(path, Self::WORDS, false);
            return Self::new();
        };
        let places = list.iter().enumerate();
        places.map(|(index, value)| T::read(value, &Path::Place(path, index), faults)).collect()
    }

    fn write(&self) -> Value {
        Value::Array(self.iter().map(T::write).collect())
    }

    fn is_nothing(&self) -> bool {
        self.is_empty()
    }
}

impl Part for [f64; 3] {
    const WORDS: &'static str = "a list of three numbers";

    fn read(value: &Value, path: &Path, faults: &Faults) -> Self {
        let list = value.as_array().map_or(&[] as &[Value], Vec::as_slice);
        if list.len() != 3 {
            faults.note(path, Self::WORDS, false);
        }
        core::array::from_fn(|index| {
            list.get(index).map_or(0.0, |value| f64::read(value, &Path::Place(path, index), faults))
        })
    }

    fn write(&self) -> Value {
        self.to_vec().write()
    }
}

/// Indented, with numbers written by the standard library: serde_json's own number writer brings ten kilobytes of
/// tables that no compression helps, and both give the shortest text that reads back as the same number.
struct Indented(PrettyFormatter<'static>);

impl Formatter for Indented {
    fn write_f64<W: ?Sized + io::Write>(&mut self, writer: &mut W, value: f64) -> io::Result<()> {
        write!(writer, "{value:?}")
    }

    fn begin_array<W: ?Sized + io::Write>(&mut self, writer: &mut W) -> io::Result<()> {
        self.0.begin_array(writer)
    }

    fn end_array<W: ?Sized + io::Write>(&mut self, writer: &mut W) -> io::Result<()> {
        self.0.end_array(writer)
    }

    fn begin_array_value<W: ?Sized + io::Write>(&mut self, writer: &mut W, first: bool) -> io::Result<()> {
        self.0.begin_array_value(writer, first)
    }

    fn end_array_value<W: ?Sized + io::Write>(&mut self, writer: &mut W) -> io::Result<()> {
        self.0.end_array_value(writer)
    }

    fn begin_object<W: ?Sized + io::Write>(&mut self, writer: &mut W) -> io::Result<()> {
        self.0.begin_object(writer)
    }

    fn end_object<W: ?Sized + io::Write>(&mut self, writer: &mut W) -> io::Result<()> {
        self.0.end_object(writer)
    }

    fn begin_object_key<W: ?Sized + io::Write>(&mut self, writer: &mut W, first: bool) -> io::Result<()> {
        self.0.begin_object_key(writer, first)
    }

    fn begin_object_value<W: ?Sized + io::Write>(&mut self, writer: &mut W) -> io::Result<()> {
        self.0.begin_object_value(writer)
    }

    fn end_object_value<W: ?Sized + io::Write>(&mut self, writer: &mut W) -> io::Result<()> {
        self.0.end_object_value(writer)
    }
}
