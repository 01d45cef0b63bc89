//! Why a setup does not become a link, or a link no setup.

use core::fmt;

use crate::error::DocumentError;

/// Why a setup does not become a link, or a link no setup.
#[derive(Debug, Clone, PartialEq)]
pub enum ShareFault {
    /// Not a link of this app at all.
    NoLink,
    /// Made by a version with another way to pack.
    OtherVersion {
        /// Its sign.
        found: char,
    },
    /// Longer than any link of this app.
    TooLong {
        /// Letters given.
        letters: usize,
        /// Letters allowed.
        most: usize,
    },
    /// A letter is missing, changed or too many.
    Damaged,
    /// More than a link can hold.
    TooLarge {
        /// Bytes to be packed.
        bytes: usize,
        /// Bytes that can be.
        most: usize,
    },
    /// What is in it is refused, as a file with it would be.
    Document(DocumentError),
}

impl From<DocumentError> for ShareFault {
    fn from(error: DocumentError) -> Self {
        Self::Document(error)
    }
}

impl fmt::Display for ShareFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoLink => write!(f, "This link holds no setup."),
            Self::OtherVersion { found } => write!(
                f,
                "This link was made by a later version of Liftmargin (its sign is {found}): update this one, or ask for the file."
            ),
            Self::TooLong { letters, most } => {
                write!(f, "{letters} letters are more than a link of Liftmargin has (at most {most}).")
            }
            Self::Damaged => write!(
                f,
                "The link is not whole: a part of it is missing or changed. Copy all of it once more, or ask for the file."
            ),
            Self::TooLarge { bytes, most } => write!(
                f,
                "This setup is too large for a link ({bytes} bytes, at most {most}): share it as a file."
            ),
            Self::Document(error) => write!(f, "{error}"),
        }
    }
}

impl core::error::Error for ShareFault {}
