//! Core's stations asked one by one: a list of questions in SI units as JSON, answers in the same order.
//!
//! The format stands in DEVELOPERS.md. A question that is refused has the error in its place.

mod cell;
mod layout;
mod unit;

use serde::Serialize;
use serde_json::Value;

use crate::card_report::ErrorReport;
use crate::error::DocumentError;
use crate::shape;

/// The questions that can be asked.
pub const QUESTIONS: &[&str] = &["unit", "pair", "layout", "cell"];

/// A figure and how well it is known.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
struct Figure {
    value: f64,
    /// One standard deviation as a share of the value.
    spread: f64,
}

/// Answers to a text of questions.
///
/// # Errors
/// Where the text is no list of questions at all.
pub fn answers(text: &str) -> Result<Vec<Value>, DocumentError> {
    let file: Value = serde_json::from_str(text).map_err(|error| DocumentError::NotJson {
        line: error.line(),
        column: error.column(),
        reason: error.to_string(),
    })?;
    let Value::Array(questions) = file else {
        return Err(DocumentError::WrongShape {
            path: "file".to_owned(),
            value: shape::shown(&file),
            allowed: "a list of questions".to_owned(),
        });
    };
    Ok(questions.into_iter().enumerate().map(|(index, question)| one(index, question)).collect())
}

fn one(index: usize, question: Value) -> Value {
    answer(question).unwrap_or_else(|refusal| {
        let report = ErrorReport::from(&refusal.under(&format!("[{index}]")));
        serde_json::to_value(report).unwrap_or_default()
    })
}

fn answer(mut question: Value) -> Result<Value, DocumentError> {
    let kind = match question.as_object_mut().and_then(|fields| fields.remove("question")) {
        Some(Value::String(kind)) => kind,
        Some(other) => return Err(unknown(&other)),
        None => {
            return Err(DocumentError::Missing {
                path: "question".to_owned(),
                allowed: format!("one of: {}", QUESTIONS.join(", ")),
            });
        }
    };
    match kind.as_str() {
        "unit" => unit::unit(&shape::read("", &question)?).map(plain),
        "pair" => unit::pair(&shape::read("", &question)?).map(plain),
        "layout" => layout::layout(&shape::read("", &question)?).map(plain),
        "cell" => cell::cell(&shape::read("", &question)?).map(plain),
        _ => Err(unknown(&Value::String(kind))),
    }
}

fn unknown(value: &Value) -> DocumentError {
    DocumentError::UnknownKey { path: "question".to_owned(), value: shape::shown(value), allowed: QUESTIONS }
}

fn plain(answer: impl Serialize) -> Value {
    serde_json::to_value(answer).unwrap_or_default()
}
