//! Answers questions to the physics as JSON: `cargo run -q -p liftmargin-document --example probe -- FILE.json`.
//!
//! The format stands in DEVELOPERS.md. A file that is refused: exit code 1 and one JSON object with `field`, `value`,
//! `allowed`, `message`; a question that is refused has such an object in its place.

use std::process::ExitCode;

use liftmargin_document::DocumentError;
use liftmargin_document::card_report::ErrorReport;
use liftmargin_document::probe::answers;

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    match answered(&arguments) {
        Ok(answers) => print(&answers, ExitCode::SUCCESS),
        Err(error) => print(&ErrorReport::from(&error), ExitCode::FAILURE),
    }
}

fn answered(arguments: &[String]) -> Result<Vec<serde_json::Value>, DocumentError> {
    let [path] = arguments else {
        return Err(DocumentError::Missing {
            path: "FILE".to_owned(),
            allowed: "one path of a file".to_owned(),
        });
    };
    let text = std::fs::read_to_string(path).map_err(|error| DocumentError::WrongShape {
        path: "FILE".to_owned(),
        value: path.clone(),
        allowed: format!("a text file that can be read ({error})"),
    })?;
    answers(&text)
}

fn print(value: &impl serde::Serialize, code: ExitCode) -> ExitCode {
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
