//! Follows a flight reading by reading and prints the projection after each, as JSON:
//! `cargo run -q -p liftmargin-document --example fly_along -- FILE.json`.
//!
//! The file is one of this app with a field more: `"fly_along": {"setup": ID, "meter_start_mah": 0, "readings": [{"time_s",
//! "used_mah"?, "voltage_v"?, "confirmed"?, "distance_m"?, "wind_m_s"?}]}`, times since lift-off. A reading that cannot be is
//! asked back and not taken. A file that is refused: exit code 1 and one JSON object with `field`, `value`, `allowed`,
//! `message`.

use std::process::ExitCode;

use liftmargin_document::DocumentError;
use liftmargin_document::airborne::report::{FollowedReport, fly_along};
use liftmargin_document::card_report::ErrorReport;
use liftmargin_document::open::open_strict_with_notes;

/// Fields beside the lists that have a meaning here.
const ASKED: [&str; 1] = ["fly_along"];

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    match told(&arguments) {
        Ok(told) => print(&told, ExitCode::SUCCESS),
        Err(error) => print(&ErrorReport::from(&error), ExitCode::FAILURE),
    }
}

fn told(arguments: &[String]) -> Result<FollowedReport, DocumentError> {
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
    fly_along(&opened.bundle)
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
