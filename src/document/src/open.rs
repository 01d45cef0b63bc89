//! Text to bundle and back.

use serde_json::Value;

use crate::check;
use crate::error::DocumentError;
use crate::migrate;
use crate::model::{Bundle, Unknown as _, below};
use crate::record::List;
use crate::shape;

/// Room for some thousand setups; a phone's storage holds no more.
pub const LARGEST_FILE_BYTES: usize = 4_000_000;

/// A file that was read.
#[derive(Debug, Clone, PartialEq)]
pub struct Opened {
    /// What was read.
    pub bundle: Bundle,
    /// Paths of fields that this version does not know; they are kept.
    pub unknown: Vec<String>,
}

/// Reads a bundle of any schema so far.
///
/// Choices that are not made yet (an empty reference, no pack) are let pass, so that unfinished work can be kept;
/// `resolve` refuses them.
///
/// # Errors
/// The first fault, with its path.
pub fn open(text: &str) -> Result<Bundle, DocumentError> {
    open_with_notes(text).map(|opened| opened.bundle)
}

/// As `open`, with a list of what has no meaning here.
///
/// # Errors
/// The first fault, with its path.
pub fn open_with_notes(text: &str) -> Result<Opened, DocumentError> {
    let file = parse(text)?;
    let bundle = read(&file)?;
    if let Some(fault) = check::faults(&bundle).into_iter().next() {
        return Err(fault);
    }
    let mut unknown = Vec::new();
    bundle.unknown("", &mut unknown);
    Ok(Opened { bundle, unknown })
}

/// The bundle as text: indented, fields in the model's order, so that two versions can be compared line by line.
pub fn save(bundle: &Bundle) -> String {
    // A value in memory cannot fail to be written into memory.
    serde_json::to_string_pretty(bundle).unwrap_or_default() + "\n"
}

/// Text as JSON of today's schema.
fn parse(text: &str) -> Result<Value, DocumentError> {
    if text.len() > LARGEST_FILE_BYTES {
        return Err(DocumentError::TooLarge { bytes: text.len(), most: LARGEST_FILE_BYTES });
    }
    // Editors on some systems put a byte-order mark first.
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let file: Value = serde_json::from_str(text).map_err(|error| DocumentError::NotJson {
        line: error.line(),
        column: error.column(),
        reason: plain_reason(&error),
    })?;
    migrate::lift(file)
}

/// The reader's reason without its "at line …", which has fields of its own.
fn plain_reason(error: &serde_json::Error) -> String {
    let reason = error.to_string();
    reason.split(" at line ").next().unwrap_or(&reason).to_owned()
}

fn read(file: &Value) -> Result<Bundle, DocumentError> {
    let mut bundle = Bundle::new();
    for list in List::ALL {
        let path = list.key();
        let records = match file.get(path) {
            Some(Value::Array(records)) => records,
            Some(other) => {
                return Err(DocumentError::WrongShape {
                    path: path.to_owned(),
                    value: shape::shown(other),
                    allowed: "a list".to_owned(),
                });
            }
            None if list.may_be_missing() => continue,
            None => {
                return Err(DocumentError::Missing { path: path.to_owned(), allowed: "a list".to_owned() });
            }
        };
        for (place, record) in records.iter().enumerate() {
            list.of_mut(&mut bundle)
                .push_value(record)
                .map_err(|fault| fault.under(&format!("{path}[{place}]")))?;
        }
    }
    for (name, value) in file.as_object().into_iter().flatten() {
        if name != migrate::NUMBER && List::from_key(name).is_none() {
            bundle.extra.insert(below("", name), value.clone());
        }
    }
    Ok(bundle)
}
