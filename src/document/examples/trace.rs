//! Prints what a recording of a flight says, as JSON: `cargo run -q -p liftmargin-document --example trace -- FILE.csv`.
//!
//! Rows, duration, mAh, Wh, lowest voltage, columns found, faults. A file that is refused: exit code 1 and one JSON object
//! with `field`, `value`, `allowed`, `message`.

use std::process::ExitCode;

use liftmargin_document::DocumentError;
use liftmargin_document::card_report::ErrorReport;
use liftmargin_document::trace::read;
use liftmargin_document::trace::report::{TraceReport, report};

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    match told(&arguments) {
        Ok(told) => print(&told, ExitCode::SUCCESS),
        Err(error) => print(&error, ExitCode::FAILURE),
    }
}

fn told(arguments: &[String]) -> Result<TraceReport, Box<ErrorReport>> {
    let [path] = arguments else {
        let missing =
            DocumentError::Missing { path: "FILE".to_owned(), allowed: "one path of a file".to_owned() };
        return Err(Box::new(ErrorReport::from(&missing)));
    };
    let bytes = std::fs::read(path).map_err(|error| {
        Box::new(ErrorReport::from(&DocumentError::WrongShape {
            path: "FILE".to_owned(),
            value: path.clone(),
            allowed: format!("a file that can be read ({error})"),
        }))
    })?;
    let trace = read(&bytes, None).map_err(|fault| {
        Box::new(ErrorReport {
            field: fault.field().to_owned(),
            value: path.as_str().into(),
            allowed: fault.allowed().to_owned(),
            message: fault.to_string(),
        })
    })?;
    Ok(report(&trace))
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
