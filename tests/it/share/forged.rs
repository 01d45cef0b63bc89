//! What a link holds, packed by other hands than the app's.

use data_encoding::BASE32_NOPAD;
use liftmargin_document::model::Bundle;
use liftmargin_document::record::closed;
use liftmargin_document::share;
use serde_json::Value;

/// As the app packs it, by other hands: no dictionary.
pub fn packed(text: &[u8]) -> String {
    let mut bytes = crc32fast::hash(text).to_be_bytes().to_vec();
    bytes.extend(miniz_oxide::deflate::compress_to_vec(text, 2));
    format!("{}1{}", share::ROUTE, BASE32_NOPAD.encode(&bytes))
}

/// The text that a link of a setup holds: its shape, then its values.
pub fn text_of(bundle: &Bundle, setup: &str) -> String {
    let closed = closed(bundle, setup).expect("there");
    let value = serde_json::to_value(&closed).expect("JSON");
    let mut values = Vec::new();
    let shape = apart(&value, &mut values);
    serde_json::json!([shape, values]).to_string()
}

fn apart(value: &Value, values: &mut Vec<Value>) -> Value {
    match value {
        Value::Number(_) => {
            values.push(value.clone());
            Value::from(0)
        }
        Value::String(_) => {
            values.push(value.clone());
            Value::from("")
        }
        Value::Array(parts) => parts.iter().map(|part| apart(part, values)).collect(),
        Value::Object(fields) => {
            Value::Object(fields.iter().map(|(name, part)| (name.clone(), apart(part, values))).collect())
        }
        other => other.clone(),
    }
}
