//! JSON as this project reads and writes it: by way of `serde_json::Value`, with the path of whatever is wrong.
//!
//! The records of the schema are not derived: a derived reader and writer for each of them took a sixth of what the
//! phone loads, and does not say where in the file it stumbled.

use core::fmt::Write as _;
use std::io;

use serde::Serialize as _;
use serde_json::ser::{Formatter, PrettyFormatter, Serializer};
use serde_json::{Map, Value};

/// Something that stands in a file as one value.
pub(crate) trait Part: Sized {
    /// What it must be, in plain words.
    const WORDS: &'static str;

    /// From its value.
    ///
    /// # Errors
    /// The path of the first value that is not what it should be.
    fn read(value: &Value, path: &Path) -> Result<Self, ShapeFault>;

    /// As its value.
    fn write(&self) -> Value;

    /// Whether it is written by leaving it out, where it may be left out.
    fn is_nothing(&self) -> bool {
        false
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

impl ShapeFault {
    fn wrong(path: &Path, words: &'static str) -> Self {
        Self { path: path.text(), words, is_missing: false }
    }
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

/// The fields of an object while it is read.
pub(crate) struct Fields<'a> {
    fields: &'a Map<String, Value>,
    path: &'a Path<'a>,
}

impl<'a> Fields<'a> {
    /// The fields of a value that must be an object.
    pub(crate) fn of(value: &'a Value, path: &'a Path<'a>) -> Result<Self, ShapeFault> {
        match value.as_object() {
            Some(fields) => Ok(Self { fields, path }),
            None => Err(ShapeFault::wrong(path, "an object")),
        }
    }

    /// A field that must be there.
    pub(crate) fn needed<T: Part>(&self, name: &str) -> Result<T, ShapeFault> {
        let path = Path::Field(self.path, name);
        match self.fields.get(name) {
            Some(value) => T::read(value, &path),
            None => Err(ShapeFault { path: path.text(), words: T::WORDS, is_missing: true }),
        }
    }

    /// A field that may be left out.
    pub(crate) fn or_usual<T: Part + Default>(&self, name: &str) -> Result<T, ShapeFault> {
        match self.fields.get(name) {
            Some(value) => T::read(value, &Path::Field(self.path, name)),
            None => Ok(T::default()),
        }
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
            ) -> Result<Self, $crate::json::ShapeFault> {
                let fields = $crate::json::Fields::of(value, path)?;
                Ok(Self { $($name: $crate::json::record!(@read fields $name $($mark)?)),* })
            }

            fn write(&self) -> serde_json::Value {
                let mut object = serde_json::Map::new();
                $($crate::json::put(
                    &mut object,
                    stringify!($name),
                    &self.$name,
                    $crate::json::record!(@may_be_left_out $($mark)?),
                );)*
                serde_json::Value::Object(object)
            }
        }
    };
    (@read $fields:ident $name:ident) => { $fields.needed(stringify!($name))? };
    (@read $fields:ident $name:ident $mark:ident) => { $fields.or_usual(stringify!($name))? };
    (@may_be_left_out optional) => { true };
    (@may_be_left_out $($mark:ident)?) => { false };
}
pub(crate) use record;

/// A part that is one plain value.
macro_rules! plain {
    ($kind:ty, $words:literal, $read:expr) => {
        impl Part for $kind {
            const WORDS: &'static str = $words;

            fn read(value: &Value, path: &Path) -> Result<Self, ShapeFault> {
                let read: fn(&Value) -> Option<Self> = $read;
                read(value).ok_or_else(|| ShapeFault::wrong(path, Self::WORDS))
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

    fn read(value: &Value, path: &Path) -> Result<Self, ShapeFault> {
        if value.is_null() { Ok(None) } else { T::read(value, path).map(Some) }
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

    fn read(value: &Value, path: &Path) -> Result<Self, ShapeFault> {
        let list = value.as_array().ok_or_else(|| ShapeFault::wrong(path, Self::WORDS))?;
        let mut things = Self::with_capacity(list.len());
        for (index, value) in list.iter().enumerate() {
            things.push(T::read(value, &Path::Place(path, index))?);
        }
        Ok(things)
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

    fn read(value: &Value, path: &Path) -> Result<Self, ShapeFault> {
        match value.as_array().map(Vec::as_slice) {
            Some([x, y, z]) => {
                let at = |value, index| f64::read(value, &Path::Place(path, index));
                Ok([at(x, 0)?, at(y, 1)?, at(z, 2)?])
            }
            _ => Err(ShapeFault::wrong(path, Self::WORDS)),
        }
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
