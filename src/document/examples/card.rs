//! Prints the card of every setup in a file as JSON: `cargo run -q -p liftmargin-document --example card -- FILE.json`.
//!
//! A file that is refused: exit code 1 and one JSON object with `field`, `value`, `allowed`, `message`. Fields of the
//! file that have no meaning are named on the error stream.

use std::process::ExitCode;

use liftmargin_document::DocumentError;
use liftmargin_document::card_report::{CardReport, ErrorReport, report};
use liftmargin_document::open::open_strict_with_notes;

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    match cards(&arguments) {
        Ok(cards) => print(&cards, ExitCode::SUCCESS),
        Err(error) => print(&ErrorReport::from(&error), ExitCode::FAILURE),
    }
}

fn cards(arguments: &[String]) -> Result<Vec<CardReport>, DocumentError> {
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
    let opened = open_strict_with_notes(&text)?;
    for field in &opened.unknown {
        eprintln!("{field} has no meaning here");
    }
    report(&opened.bundle)
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
