//! The short list before lift-off, the crew's own to edit. It stands beside the lists of the file.

use serde_json::Value;

use crate::model::Bundle;

/// Where it stands in the file.
const KEY: &str = "lift_off_list";

/// Common practice, no source.
const USUAL: [&str; 5] = [
    "Meter set to zero, or its figure noted",
    "Strings compared at rest",
    "Covers off",
    "Arms and tray locked",
    "Payload secured",
];

/// The crew's list, or the usual one.
pub fn lift_off_list(bundle: &Bundle) -> Vec<String> {
    match bundle.extra.get(KEY).and_then(Value::as_array) {
        Some(lines) => lines.iter().filter_map(Value::as_str).map(str::to_owned).collect(),
        None => USUAL.map(str::to_owned).to_vec(),
    }
}

/// Puts the crew's list, a line each; an empty one is the usual one again.
pub fn set_lift_off_list(bundle: &mut Bundle, text: &str) {
    let lines: Vec<Value> =
        text.lines().map(str::trim).filter(|line| !line.is_empty()).map(Value::from).collect();
    if lines.is_empty() {
        bundle.extra.shift_remove(KEY);
    } else {
        bundle.extra.insert(KEY.to_owned(), Value::Array(lines));
    }
}
