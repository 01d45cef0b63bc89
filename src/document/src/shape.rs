//! A value of a file as one of the model's types, with the path of whatever is of another sort.

use serde::de::DeserializeOwned;
use serde_json::Value;

use crate::error::DocumentError;
use crate::model::{below, numbers};
use crate::quantity;

/// A record of a list, or another part; paths are below it.
///
/// # Errors
/// `Missing` and `WrongShape`.
pub(crate) fn read<T: DeserializeOwned>(list: &str, value: &Value) -> Result<T, DocumentError> {
    serde_path_to_error::deserialize(value).map_err(|error| {
        let path = error.path().to_string();
        let path = if path == "." { String::new() } else { path };
        let reason = error.inner().to_string();
        if let Some(field) = missing_field(&reason) {
            let path = below(&path, field);
            return DocumentError::Missing { allowed: allowed(list, &path, None), path };
        }
        let found = at(value, &path).map_or_else(String::new, shown);
        DocumentError::WrongShape { value: found, allowed: allowed(list, &path, Some(&reason)), path }
    })
}

fn missing_field(reason: &str) -> Option<&str> {
    reason.strip_prefix("missing field `")?.strip_suffix('`')
}

/// What belongs at a path: a number's range, else what the reader expected.
fn allowed(list: &str, path: &str, reason: Option<&str>) -> String {
    if let Some(number) = numbers::at(list, path) {
        return quantity::allowed(number);
    }
    let expected = reason.and_then(|reason| reason.rsplit_once("expected ")).map(|(_, expected)| expected);
    let words = match expected {
        Some("a string") => "a text",
        Some("a boolean") => "true or false",
        Some("an array of length 3") => "a list of three numbers",
        Some("a sequence") => "a list",
        Some(other) if other.starts_with("struct") => "an object",
        Some(other) if other.starts_with('f') || other.starts_with('u') => "a number",
        Some(other) => other,
        None => "a value",
    };
    words.to_owned()
}

/// What stands at a path.
fn at<'a>(file: &'a Value, path: &str) -> Option<&'a Value> {
    let pointer = format!("/{}", path.replace('[', "/").replace(']', "").replace('.', "/"));
    if path.is_empty() { Some(file) } else { file.pointer(&pointer) }
}

/// A value as JSON, cut where it is long.
pub(crate) fn shown(value: &Value) -> String {
    const LONGEST: usize = 60;
    let text = match value {
        Value::String(text) => text.clone(),
        other => other.to_string(),
    };
    match text.char_indices().nth(LONGEST) {
        Some((end, _)) => format!("{}…", text.get(..end).unwrap_or_default()),
        None => text,
    }
}
