//! Text to bundle and back.
//!
//! Reading is tolerant of fields it does not know (a crew may open a file that was edited by hand), but never silent:
//! they are left out and listed. Everything it does know is checked before the bundle is handed on.

use serde_json::Value;

use crate::check;
use crate::error::DocumentError;
use crate::json::{self, Part as _, ShapeFault};
use crate::migrate;
use crate::schema::Bundle;

/// Room for some thousand setups; a phone's storage holds no more.
pub const LARGEST_FILE_BYTES: usize = 4_000_000;

/// A file that was read, and what of it was left out.
#[derive(Debug, Clone, PartialEq)]
pub struct Opened {
    /// What was read.
    pub bundle: Bundle,
    /// Paths of fields that the schema does not know; they are not kept.
    pub left_out: Vec<String>,
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

/// As `open`, with a list of what was left out.
///
/// # Errors
/// The first fault, with its path.
pub fn open_with_notes(text: &str) -> Result<Opened, DocumentError> {
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
    let file = migrate::lift(file)?;
    let bundle = read(&file)?;
    if let Some(fault) = check::faults(&bundle).into_iter().next() {
        return Err(fault);
    }
    let mut left_out = Vec::new();
    note_left_out("", &file, &bundle.write(), &mut left_out);
    Ok(Opened { bundle, left_out })
}

/// The bundle as text: indented, fields in the schema's order, so that two versions can be compared line by line.
pub fn save(bundle: &Bundle) -> String {
    json::text(&bundle.write()) + "\n"
}

/// The reader's reason without its "at line …", which has fields of its own.
fn plain_reason(error: &serde_json::Error) -> String {
    let reason = error.to_string();
    reason.split(" at line ").next().unwrap_or(&reason).to_owned()
}

fn read(file: &Value) -> Result<Bundle, DocumentError> {
    json::read(file).map_err(|ShapeFault { path, is_missing, .. }| {
        let allowed = allowed_at(file, &path);
        if is_missing {
            DocumentError::Missing { path, allowed }
        } else {
            DocumentError::WrongShape {
                value: at(file, &path).map_or_else(String::new, shown),
                allowed,
                path,
            }
        }
    })
}

/// What belongs at `path`: a number far outside any range is put there, and the checks are asked.
fn allowed_at(file: &Value, path: &str) -> String {
    let mut trial = file.clone();
    put(&mut trial, path, Value::from(4_000_000_000_u64));
    match json::read::<Bundle>(&trial) {
        Ok(bundle) => check::faults(&bundle)
            .iter()
            .find(|fault| fault.field() == path)
            .map_or_else(|| "a number".to_owned(), DocumentError::allowed),
        Err(fault) if fault.path == path => fault.words.to_owned(),
        Err(_) => "a value".to_owned(),
    }
}

fn join(path: &str, field: &str) -> String {
    if path.is_empty() { field.to_owned() } else { format!("{path}.{field}") }
}

/// A path as a JSON pointer: `setups[1].profile.height_m` is `/setups/1/profile/height_m`.
fn pointer(path: &str) -> String {
    format!("/{}", path.replace('[', "/").replace(']', "").replace('.', "/"))
}

fn at<'a>(file: &'a Value, path: &str) -> Option<&'a Value> {
    if path.is_empty() { Some(file) } else { file.pointer(&pointer(path)) }
}

fn put(file: &mut Value, path: &str, value: Value) {
    let pointer = pointer(path);
    let Some((parent, key)) = pointer.rsplit_once('/') else { return };
    match file.pointer_mut(parent) {
        Some(Value::Object(fields)) => {
            fields.insert(key.to_owned(), value);
        }
        Some(Value::Array(things)) => {
            if let Some(place) = key.parse().ok().and_then(|index: usize| things.get_mut(index)) {
                *place = value;
            }
        }
        _ => {}
    }
}

/// A value as JSON, cut where it is long.
pub(crate) fn shown(value: &Value) -> String {
    const LONGEST: usize = 60;
    let text = match value {
        Value::String(text) => text.clone(),
        other => json::text(other).lines().map(str::trim).collect(),
    };
    match text.char_indices().nth(LONGEST) {
        Some((end, _)) => format!("{}…", text.get(..end).unwrap_or_default()),
        None => text,
    }
}

fn note_left_out(path: &str, given: &Value, kept: &Value, notes: &mut Vec<String>) {
    match (given, kept) {
        (Value::Object(given), Value::Object(kept)) => {
            for (field, value) in given {
                let path = join(path, field);
                match kept.get(field) {
                    Some(kept) => note_left_out(&path, value, kept, notes),
                    None if is_nothing(value) => {}
                    None => notes.push(path),
                }
            }
        }
        (Value::Array(given), Value::Array(kept)) => {
            for (index, (given, kept)) in given.iter().zip(kept).enumerate() {
                note_left_out(&format!("{path}[{index}]"), given, kept, notes);
            }
        }
        _ => {}
    }
}

/// Null and the empty list are written by leaving the field out.
fn is_nothing(value: &Value) -> bool {
    value.is_null() || value.as_array().is_some_and(Vec::is_empty)
}
