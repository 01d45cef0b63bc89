//! Text to bundle and back.

use std::collections::HashSet;

use serde::{Deserialize, Serialize};
use serde_json::Value;

use crate::check;
use crate::error::DocumentError;
use crate::fields::Number;
use crate::migrate;
use crate::model::{Bundle, Unknown as _, below, numbers};
use crate::quantity;
use crate::record::{List, fresh_id};
use crate::shape;

/// Room for some ten thousand setups, or a thousand flights with whole recordings (22 MB); more is no file of this app.
pub const LARGEST_FILE_BYTES: usize = 32_000_000;

/// A file that was read as far as it goes.
#[derive(Debug, Clone, PartialEq)]
pub struct Opened {
    /// Every record that is whole, be it finished or not: what is missing or out of range, `resolve` says.
    pub bundle: Bundle,
    /// The others.
    pub broken: Vec<BrokenRecord>,
    /// Paths of fields that this version does not know; they are kept.
    pub unknown: Vec<String>,
}

/// Something in a list that is no record of it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct BrokenRecord {
    /// The list in the file.
    pub list: String,
    /// Its id, as far as it has one.
    pub id: String,
    /// Its shown name, as far as it has one.
    pub name: String,
    /// What is wrong with it.
    pub words: String,
    /// Itself, as JSON.
    pub text: String,
}

impl BrokenRecord {
    pub(crate) fn new(list: List, record: &Value, fault: &DocumentError) -> Self {
        let text_of = |field: &str| record.get(field).and_then(Value::as_str).unwrap_or_default().to_owned();
        Self {
            list: list.key().to_owned(),
            id: text_of("id"),
            name: text_of("name"),
            words: fault.to_string(),
            text: record.to_string(),
        }
    }
}

/// Reads a file of any schema so far, and keeps every record of it that is whole: one that is broken hides no other.
///
/// A record without an id, or with that of an earlier one, gets one of its own.
///
/// # Errors
/// Where it is no file of this app at all, or one of a later schema.
pub fn open(text: &str) -> Result<Opened, DocumentError> {
    Ok(whole(&parse(text)?))
}

/// As `open`, of JSON that was read already.
pub(crate) fn open_value(file: Value) -> Result<Opened, DocumentError> {
    Ok(whole(&migrate::lift(bundle_in(file))?))
}

fn whole(file: &Value) -> Opened {
    let mut broken = Vec::new();
    let mut bundle = read(file, |fault| match fault {
        Fault::Record(list, _, record, error) => broken.push(BrokenRecord::new(list, record, &error)),
        Fault::List(list, Some(other)) => {
            let error = not_a_list(list, Some(other));
            broken.push(BrokenRecord::new(list, other, &error));
        }
        Fault::List(_, None) => {}
    });
    give_ids(&mut bundle);
    let unknown = unknown(&bundle);
    Opened { bundle, broken, unknown }
}

/// Broken records as a file of their own, to be mended by hand and taken in again.
pub fn broken_as_file(broken: &[BrokenRecord]) -> String {
    let mut file = serde_json::to_value(Bundle::new()).unwrap_or_default();
    for record in broken {
        let value = serde_json::from_str(&record.text).unwrap_or_else(|_| Value::from(record.text.as_str()));
        if let Some(lists) = file.as_object_mut()
            && let Some(records) =
                lists.entry(record.list.as_str()).or_insert_with(|| Value::Array(Vec::new())).as_array_mut()
        {
            records.push(value);
        }
    }
    serde_json::to_string_pretty(&file).unwrap_or_default() + "\n"
}

/// Reads a file in which everything must be whole and in its range, as a test or an export wants it.
///
/// Choices that are not made yet (an empty reference, no pack) are let pass.
///
/// # Errors
/// The first fault, with its path.
pub fn open_strict(text: &str) -> Result<Bundle, DocumentError> {
    open_strict_with_notes(text).map(|opened| opened.bundle)
}

/// As `open_strict`, with a list of what has no meaning here.
///
/// # Errors
/// The first fault, with its path.
pub fn open_strict_with_notes(text: &str) -> Result<Opened, DocumentError> {
    let file = parse(text)?;
    let mut first = None;
    let bundle = read(&file, |fault| {
        first.get_or_insert_with(|| match fault {
            Fault::Record(list, place, _, error) => error.under(&format!("{}[{place}]", list.key())),
            Fault::List(list, found) => not_a_list(list, found),
        });
    });
    match first.or_else(|| check::faults(&bundle).into_iter().next()) {
        Some(fault) => Err(fault),
        None => Ok(Opened { unknown: unknown(&bundle), bundle, broken: Vec::new() }),
    }
}

/// The bundle as text: indented, fields in the model's order, so that two versions can be compared line by line.
///
/// # Errors
/// `TooLarge` beyond what can be opened, `Refused` for a number that JSON cannot hold.
pub fn save(bundle: &Bundle) -> Result<String, DocumentError> {
    let text = serde_json::to_string_pretty(&to_value(bundle)?).unwrap_or_default() + "\n";
    if text.len() > LARGEST_FILE_BYTES {
        return Err(DocumentError::TooLarge { bytes: text.len(), most: LARGEST_FILE_BYTES });
    }
    Ok(text)
}

/// The bundle as JSON.
///
/// # Errors
/// `Refused` for a number that JSON cannot hold.
pub(crate) fn to_value(bundle: &Bundle) -> Result<Value, DocumentError> {
    // Only a map with keys that are no text could fail, and there is none.
    let file = serde_json::to_value(bundle).unwrap_or_default();
    for list in List::ALL {
        for (place, record) in file[list.key()].as_array().into_iter().flatten().enumerate() {
            if let Some(number) = not_finite(list.key(), "", record) {
                let path = format!("{}[{place}]", list.key());
                return Err(number.check(f64::NAN).err().map_or_else(
                    || DocumentError::Missing { path: path.clone(), allowed: quantity::allowed(number) },
                    |fault| fault.under(&path),
                ));
            }
        }
    }
    Ok(file)
}

/// A number that became null on its way into JSON, as no finite one does.
pub(crate) fn not_finite(list: &str, path: &str, value: &Value) -> Option<&'static Number> {
    match value {
        Value::Null => numbers::at(list, path),
        Value::Array(parts) => {
            let mut parts = parts.iter().enumerate();
            parts.find_map(|(index, part)| not_finite(list, &format!("{path}[{index}]"), part))
        }
        Value::Object(fields) => {
            fields.iter().find_map(|(name, part)| not_finite(list, &below(path, name), part))
        }
        _ => None,
    }
}

fn unknown(bundle: &Bundle) -> Vec<String> {
    let mut unknown = Vec::new();
    bundle.unknown("", &mut unknown);
    unknown
}

/// Ids of their own for records that have none.
pub(crate) fn give_ids(bundle: &mut Bundle) {
    for list in List::ALL {
        let mut taken = HashSet::new();
        for (place, (id, _)) in list.names(bundle).into_iter().enumerate() {
            let is_own = !id.is_empty() && taken.insert(id.clone());
            if !is_own {
                let stem = if id.is_empty() { list.one().replace(' ', "-") } else { id };
                let fresh = fresh_id(&list.names(bundle), &stem);
                taken.insert(fresh.clone());
                list.of_mut(bundle).set_id(place, fresh);
            }
        }
    }
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
    migrate::lift(bundle_in(file))
}

/// What a browser kept is a file too: its bundle stands in it beside the choices of view.
fn bundle_in(mut file: Value) -> Value {
    let is_kept = file.get(migrate::NUMBER).is_none() && file.get("bundle").is_some_and(Value::is_object);
    if is_kept { file["bundle"].take() } else { file }
}

/// The reader's reason without its "at line …", which has fields of its own.
fn plain_reason(error: &serde_json::Error) -> String {
    let reason = error.to_string();
    reason.split(" at line ").next().unwrap_or(&reason).to_owned()
}

/// What stands in the way of reading all of a file.
enum Fault<'a> {
    /// A list that is not there, or no list.
    List(List, Option<&'a Value>),
    /// A record of a list, at its place; the path is below it.
    Record(List, usize, &'a Value, DocumentError),
}

fn not_a_list(list: List, found: Option<&Value>) -> DocumentError {
    let (path, allowed) = (list.key().to_owned(), "a list".to_owned());
    match found {
        Some(other) => DocumentError::WrongShape { path, value: shape::shown(other), allowed },
        None => DocumentError::Missing { path, allowed },
    }
}

/// Everything that is whole; the rest is told.
fn read<'a>(file: &'a Value, mut tell: impl FnMut(Fault<'a>)) -> Bundle {
    let mut bundle = Bundle::new();
    for list in List::ALL {
        let records = match file.get(list.key()) {
            Some(Value::Array(records)) => records.as_slice(),
            None if list.may_be_missing() => &[],
            other => {
                tell(Fault::List(list, other));
                &[]
            }
        };
        for (place, record) in records.iter().enumerate() {
            if let Err(error) = list.of_mut(&mut bundle).push_value(record) {
                tell(Fault::Record(list, place, record, error));
            }
        }
    }
    for (name, value) in file.as_object().into_iter().flatten() {
        if name != migrate::NUMBER && List::from_key(name).is_none() {
            bundle.extra.insert(name.clone(), value.clone());
        }
    }
    bundle
}
