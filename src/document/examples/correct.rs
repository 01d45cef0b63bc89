//! Prints what the flights of a file teach of each airframe, as JSON:
//! `cargo run -q -p liftmargin-document --example correct -- FILE.json`.
//!
//! The file is what the log exports (`airframes`, `flown_setups`, `flights`), or any file of this app with `flights` whose
//! `setup` stands in it; `"airframe": ID` asks for one alone. Factor on power, its 80 and 90 % intervals, which flights are
//! odd and why. A file that is refused: exit code 1 and one JSON object with `field`, `value`, `allowed`, `message`.

use std::process::ExitCode;

use liftmargin_document::DocumentError;
use liftmargin_document::card_report::ErrorReport;
use liftmargin_document::log::report::{CorrectionReport, corrections};
use liftmargin_document::open::open_strict_with_notes;

/// Fields beside the lists that have a meaning here.
const ASKED: [&str; 2] = ["airframe", "now_unix_ms"];

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    match told(&arguments) {
        Ok(told) => print(&told, ExitCode::SUCCESS),
        Err(error) => print(&ErrorReport::from(&error), ExitCode::FAILURE),
    }
}

fn told(arguments: &[String]) -> Result<Vec<CorrectionReport>, DocumentError> {
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
    for field in opened.unknown.iter().filter(|field| !ASKED.contains(&field.as_str())) {
        eprintln!("{field} has no meaning here");
    }
    corrections(&opened.bundle)
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
