//! Older files brought to today's schema: one pure step from each number to the next, on plain JSON.
//!
//! A step must not fail: what it cannot understand it leaves for the shape check, which names the field.

use serde_json::{Map, Value, json};

use crate::error::{DocumentError, up_to};
use crate::model::SCHEMA;

pub(crate) const NUMBER: &str = "liftmargin_schema";

/// Lifts a file from one schema number to the next.
type Step = fn(Value) -> Value;

/// `STEPS[0]` lifts schema 1 to 2, and so on.
const STEPS: &[Step] = &[packs_by_type];

const _: () = assert!(STEPS.len() + 1 == SCHEMA as usize, "every schema but the first needs a step");

/// Schema 1 had one record for a pack type or a single pack, and one rest voltage and temperature for all strings.
fn packs_by_type(mut file: Value) -> Value {
    let Some(lists) = file.as_object_mut() else { return file };
    if let Some(packs) = lists.remove("packs") {
        lists.insert("pack_types".to_owned(), packs);
        lists.insert("packs".to_owned(), Value::Array(Vec::new()));
    }
    let setups = lists.get_mut("setups").and_then(Value::as_array_mut).into_iter().flatten();
    for supply in setups.filter_map(|setup| setup.get_mut("supply")?.as_object_mut()) {
        let temperature = supply.remove("pack_temperature_c");
        let rest_voltage = supply.remove("rest_cell_voltage_v");
        for string in supply.get_mut("strings").and_then(Value::as_array_mut).into_iter().flatten() {
            let Some(ids) = string.as_array() else { continue };
            let packs = ids.iter().map(|id| json!({ "type": id })).collect();
            let mut lifted = Map::from_iter([("packs".to_owned(), Value::Array(packs))]);
            lifted.extend(rest_voltage.clone().map(|value| ("rest_cell_voltage_v".to_owned(), value)));
            lifted.extend(temperature.clone().map(|value| ("temperature_c".to_owned(), value)));
            *string = Value::Object(lifted);
        }
    }
    file
}

/// The file in today's schema.
///
/// # Errors
/// `NewerSchema` for a file of a later version; `Missing` and `WrongShape` for a schema number that is none.
pub(crate) fn lift(file: Value) -> Result<Value, DocumentError> {
    lift_by(file, STEPS)
}

fn lift_by(mut file: Value, steps: &[Step]) -> Result<Value, DocumentError> {
    let newest = steps.len() as u32 + 1;
    let found = number(&file, newest)?;
    if found > u64::from(newest) {
        return Err(DocumentError::NewerSchema { found, newest });
    }
    for (step, reached) in steps.iter().zip(2_u64..).skip(found as usize - 1) {
        file = step(file);
        if let Some(field) = file.get_mut(NUMBER) {
            *field = reached.into();
        }
    }
    Ok(file)
}

fn number(file: &Value, newest: u32) -> Result<u64, DocumentError> {
    let allowed = up_to(newest);
    if !file.is_object() {
        return Err(DocumentError::WrongShape {
            path: "file".to_owned(),
            value: crate::shape::shown(file),
            allowed: "an object with the lists of a bundle".to_owned(),
        });
    }
    let Some(field) = file.get(NUMBER) else {
        return Err(DocumentError::Missing { path: NUMBER.to_owned(), allowed });
    };
    field.as_u64().filter(|number| *number >= 1).ok_or_else(|| DocumentError::WrongShape {
        path: NUMBER.to_owned(),
        value: crate::shape::shown(field),
        allowed,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rename(mut file: Value) -> Value {
        if let Some(old) = file.as_object_mut().and_then(|object| object.remove("aircraft")) {
            file["airframes"] = old;
        }
        file
    }

    fn add(mut file: Value) -> Value {
        file["sites"] = json!([]);
        file
    }

    #[test]
    fn regress_steps_are_taken_from_the_files_number_on() {
        let steps: &[Step] = &[rename, add];
        let table = [
            (json!({NUMBER: 1, "aircraft": [7]}), json!({NUMBER: 3, "airframes": [7], "sites": []})),
            (json!({NUMBER: 2, "aircraft": [7]}), json!({NUMBER: 3, "aircraft": [7], "sites": []})),
            (json!({NUMBER: 3, "aircraft": [7]}), json!({NUMBER: 3, "aircraft": [7]})),
        ];
        for (old, new) in table {
            assert_eq!(lift_by(old, steps), Ok(new));
        }
    }

    #[test]
    fn regress_a_later_file_is_refused() {
        let later = json!({NUMBER: 4});
        assert_eq!(lift_by(later, &[rename, add]), Err(DocumentError::NewerSchema { found: 4, newest: 3 }));
    }
}
