//! What the examples share: one file in, JSON out, a refusal as one JSON object with exit code 1.

use std::process::ExitCode;

use liftmargin_document::DocumentError;
use liftmargin_document::card_report::ErrorReport;
use liftmargin_document::open::{Opened, open_strict_with_notes};

/// Prints what `work` makes of the arguments, or why it cannot.
pub fn run<T: serde::Serialize>(work: impl FnOnce(&[String]) -> Result<T, DocumentError>) -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    match work(&arguments) {
        Ok(answer) => print(&answer, ExitCode::SUCCESS),
        Err(error) => print(&ErrorReport::from(&error), ExitCode::FAILURE),
    }
}

/// Prints a value and ends with `code`.
pub fn print(value: &impl serde::Serialize, code: ExitCode) -> ExitCode {
    match serde_json::to_string_pretty(value) {
        Ok(text) => {
            println!("{text}");
            code
        }
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}

/// The only argument, a path.
pub fn only_path(arguments: &[String]) -> Result<&str, DocumentError> {
    match arguments {
        [path] => Ok(path),
        _ => {
            Err(DocumentError::Missing { path: "FILE".to_owned(), allowed: "one path of a file".to_owned() })
        }
    }
}

/// The text of a file.
pub fn text_of(path: &str) -> Result<String, DocumentError> {
    std::fs::read_to_string(path).map_err(|error| unreadable(path, "a text file", &error))
}

/// A file that cannot be read.
pub fn unreadable(path: &str, wanted: &str, error: &std::io::Error) -> DocumentError {
    DocumentError::WrongShape {
        path: "FILE".to_owned(),
        value: path.to_owned(),
        allowed: format!("{wanted} that can be read ({error})"),
    }
}

/// The file that the only argument names. Fields without a meaning are named on the error stream, but for those `asked`.
pub fn opened(arguments: &[String], asked: &[&str]) -> Result<Opened, DocumentError> {
    let opened = open_strict_with_notes(&text_of(only_path(arguments)?)?)?;
    for field in opened.unknown.iter().filter(|field| !asked.contains(&field.as_str())) {
        eprintln!("{field} has no meaning here");
    }
    Ok(opened)
}
