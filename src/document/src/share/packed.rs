//! JSON in two parts that deflate well: its shape, which is nearly the same for every setup, and its values in order.
//!
//! `[shape, values]`: in the shape each text stands as `""`, each number as `0`, or `0.0` where it is no whole number by its
//! sort; the values fill these places in order. A whole number at a place of `0.0` is written without its `.0`.

use serde_json::{Number, Value, json};

/// Whole numbers up to here are the same as whole numbers and as decimals.
const GREATEST_WHOLE: f64 = 9_007_199_254_740_992.0;

/// A value as text.
pub(super) fn pack(value: &Value) -> String {
    let mut values = Vec::new();
    let shape = take_apart(value, &mut values);
    json!([shape, values]).to_string()
}

/// The value again; none where the text is no such text.
pub(super) fn unpack(text: &[u8]) -> Option<Value> {
    let (mut shape, values): (Value, Vec<Value>) = serde_json::from_slice(text).ok()?;
    let mut values = values.into_iter();
    fill(&mut shape, &mut values)?;
    values.next().is_none().then_some(shape)
}

fn take_apart(value: &Value, values: &mut Vec<Value>) -> Value {
    match value {
        Value::Null | Value::Bool(_) => value.clone(),
        Value::Number(number) if number.is_f64() => {
            values.push(shortest(number));
            Value::from(0.0)
        }
        Value::Number(_) => {
            values.push(value.clone());
            Value::from(0)
        }
        Value::String(_) => {
            values.push(value.clone());
            Value::from("")
        }
        Value::Array(parts) => parts.iter().map(|part| take_apart(part, values)).collect(),
        Value::Object(fields) => {
            let parts = fields.iter().map(|(name, part)| (name.clone(), take_apart(part, values)));
            Value::Object(parts.collect())
        }
    }
}

fn shortest(number: &Number) -> Value {
    match number.as_f64() {
        // Zero with a sign has no whole number.
        Some(float)
            if float.fract() == 0.0
                && float.abs() < GREATEST_WHOLE
                && (float != 0.0 || float.is_sign_positive()) =>
        {
            Value::from(float as i64)
        }
        _ => Value::Number(number.clone()),
    }
}

fn fill(shape: &mut Value, values: &mut impl Iterator<Item = Value>) -> Option<()> {
    match shape {
        Value::Null | Value::Bool(_) => {}
        Value::Number(place) => {
            let Value::Number(number) = values.next()? else { return None };
            *place = if place.is_f64() { Number::from_f64(number.as_f64()?)? } else { number };
        }
        Value::String(place) => {
            let Value::String(text) = values.next()? else { return None };
            *place = text;
        }
        Value::Array(parts) => parts.iter_mut().try_for_each(|part| fill(part, values))?,
        Value::Object(fields) => fields.values_mut().try_for_each(|part| fill(part, values))?,
    }
    Some(())
}
