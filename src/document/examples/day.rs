//! Prints a day's schedule: each event with start, end, pack set and charger, flights done, first stall and bottleneck, fewest sets, as JSON: `cargo run -q -p liftmargin-document --example day -- FILE.json`.
//!
//! The format stands at `ground::day_asked`; a sample is `day.json` beside this file. A file that is refused: exit code 1
//! and one JSON object with `field`, `value`, `allowed`, `message`.

use std::process::ExitCode;

use liftmargin_document::DocumentError;
use liftmargin_document::card_report::ErrorReport;
use liftmargin_document::ground::day;

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    match answered(&arguments) {
        Ok(answer) => print(&answer, ExitCode::SUCCESS),
        Err(error) => print(&ErrorReport::from(&error), ExitCode::FAILURE),
    }
}

fn answered(arguments: &[String]) -> Result<serde_json::Value, DocumentError> {
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
    day(&text)
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
