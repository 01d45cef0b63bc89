//! Why a file, or a change to one, is refused: one typed error, naming field, value and what is allowed.

use core::fmt;

use liftmargin_core::input_error::InputError;

use crate::fields::Number;
use crate::quantity;

/// A refused file, or a refused change.
#[derive(Debug, Clone, PartialEq)]
pub enum DocumentError {
    /// More text than a bundle can sensibly hold.
    TooLarge {
        /// Bytes given.
        bytes: usize,
        /// Bytes allowed.
        most: usize,
    },
    /// Not JSON at all.
    NotJson {
        /// Line, from 1.
        line: usize,
        /// Column, from 1.
        column: usize,
        /// What the reader stumbled over.
        reason: String,
    },
    /// JSON, but a field is of another sort than the schema says.
    WrongShape {
        /// The field.
        path: String,
        /// What stands there, as JSON.
        value: String,
        /// What should.
        allowed: String,
    },
    /// A field that must be there is not, or a choice is not made yet.
    Missing {
        /// The field.
        path: String,
        /// What should be there.
        allowed: String,
    },
    /// Written by a later version.
    NewerSchema {
        /// The file's schema number.
        found: u64,
        /// The newest one known here.
        newest: u32,
    },
    /// Two things of one list with the same id.
    DuplicateId {
        /// The second one's field.
        path: String,
        /// The id.
        id: String,
    },
    /// A reference to nothing.
    UnknownReference {
        /// The field that refers.
        path: String,
        /// The id it asks for.
        id: String,
    },
    /// A word that is not one of the keys.
    UnknownKey {
        /// The field.
        path: String,
        /// The word.
        value: String,
        /// The keys.
        allowed: &'static [&'static str],
    },
    /// Refused by core.
    Refused {
        /// The field.
        path: String,
        /// The value in the file's own unit; empty where no single one is at fault.
        value: String,
        /// Core's reason.
        refusal: InputError,
        /// What there is to say about the field, where it is one that a crew enters.
        number: Option<&'static Number>,
    },
    /// A value that does not go with another field.
    Contradiction {
        /// The field.
        path: String,
        /// Its value.
        value: String,
        /// What the other field allows.
        allowed: String,
    },
    /// It cannot be deleted: something refers to it.
    InUse {
        /// What was to be deleted.
        path: String,
        /// Its id.
        id: String,
        /// Names of what refers to it.
        used_by: Vec<String>,
    },
}

impl DocumentError {
    /// A refusal that only core's stations could find.
    pub fn of_core(refusal: InputError) -> Self {
        Self::Refused { path: refusal.field().to_owned(), value: String::new(), refusal, number: None }
    }

    /// The field, as a path into the file: `setups[1].profile.height_m`.
    pub fn field(&self) -> &str {
        match self {
            Self::TooLarge { .. } | Self::NotJson { .. } => "file",
            Self::NewerSchema { .. } => "liftmargin_schema",
            Self::WrongShape { path, .. }
            | Self::Missing { path, .. }
            | Self::DuplicateId { path, .. }
            | Self::UnknownReference { path, .. }
            | Self::UnknownKey { path, .. }
            | Self::Refused { path, .. }
            | Self::Contradiction { path, .. }
            | Self::InUse { path, .. } => path,
        }
    }

    /// The value at fault, in the file's own unit.
    pub fn value(&self) -> String {
        match self {
            Self::TooLarge { bytes, .. } => format!("{bytes} bytes"),
            Self::NotJson { line, column, .. } => format!("line {line}, column {column}"),
            Self::NewerSchema { found, .. } => found.to_string(),
            Self::Missing { .. } => "nothing".to_owned(),
            Self::DuplicateId { id, .. } | Self::UnknownReference { id, .. } | Self::InUse { id, .. } => {
                id.clone()
            }
            Self::WrongShape { value, .. }
            | Self::UnknownKey { value, .. }
            | Self::Refused { value, .. }
            | Self::Contradiction { value, .. } => value.clone(),
        }
    }

    /// What is allowed there, in the file's own unit: `0 to 60 kg`.
    pub fn allowed(&self) -> String {
        match self {
            Self::TooLarge { most, .. } => format!("up to {most} bytes"),
            Self::NotJson { reason, .. } => format!("JSON text; {reason}"),
            Self::NewerSchema { newest, .. } => up_to(*newest),
            Self::WrongShape { allowed, .. }
            | Self::Missing { allowed, .. }
            | Self::Contradiction { allowed, .. } => allowed.clone(),
            Self::DuplicateId { .. } => "an id of its own".to_owned(),
            Self::UnknownReference { .. } => "an id from the file's lists".to_owned(),
            Self::UnknownKey { allowed, .. } => allowed.join(", "),
            Self::Refused { refusal, number, .. } => match (refusal, number) {
                (InputError::OutOfRange { .. }, Some(number)) => quantity::allowed(number),
                (InputError::OutOfRange { range, .. }, None) => quantity::allowed_si(range),
                (other, _) => other.to_string(),
            },
            Self::InUse { used_by, .. } => format!("only after it is taken out of: {}", used_by.join(", ")),
        }
    }

    /// The same error seen from the thing that holds the field: puts `parent` before the path.
    #[must_use]
    pub fn under(mut self, parent: &str) -> Self {
        match &mut self {
            Self::TooLarge { .. } | Self::NotJson { .. } | Self::NewerSchema { .. } => {}
            Self::WrongShape { path, .. }
            | Self::Missing { path, .. }
            | Self::DuplicateId { path, .. }
            | Self::UnknownReference { path, .. }
            | Self::UnknownKey { path, .. }
            | Self::Refused { path, .. }
            | Self::Contradiction { path, .. }
            | Self::InUse { path, .. } => {
                let dot = if path.is_empty() || path.starts_with('[') { "" } else { "." };
                *path = format!("{parent}{dot}{path}");
            }
        }
        self
    }
}

/// The schema numbers that can be read.
pub(crate) fn up_to(newest: u32) -> String {
    if newest == 1 { "1".to_owned() } else { format!("1 to {newest}") }
}

impl fmt::Display for DocumentError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooLarge { bytes, most } => {
                write!(f, "the file has {bytes} bytes, at most {most} can be read")
            }
            Self::NotJson { line, column, reason } => {
                write!(f, "the file is not JSON: line {line}, column {column}: {reason}")
            }
            Self::NewerSchema { found, newest } => write!(
                f,
                "the file was written by a later version (schema {found}, this one knows up to {newest}): update first"
            ),
            Self::Missing { path, allowed } => write!(f, "{path} is not there yet, it needs {allowed}"),
            Self::DuplicateId { path, id } => write!(f, "{path}: the id {id} is used twice"),
            Self::UnknownReference { path, id } => write!(f, "{path}: there is no {id} in the file"),
            Self::UnknownKey { path, value, .. } => {
                write!(f, "{path} is {value}, allowed is one of: {}", self.allowed())
            }
            Self::WrongShape { path, value, allowed } | Self::Contradiction { path, value, allowed } => {
                write!(f, "{path} is {value}, allowed is {allowed}")
            }
            Self::Refused { path, value, refusal, .. } => match refusal {
                InputError::OutOfRange { .. } => {
                    write!(f, "{path} is {value}, allowed is {}", self.allowed())
                }
                other => write!(f, "{path}: {other}"),
            },
            Self::InUse { id, used_by, .. } => {
                write!(f, "{id} cannot be deleted, it is used by: {}", used_by.join(", "))
            }
        }
    }
}

impl core::error::Error for DocumentError {}
