//! Prints what a recording of a flight says, as JSON: `cargo run -q -p liftmargin-document --example trace -- FILE.csv`.
//!
//! Rows, duration, mAh, Wh, lowest voltage, columns found, faults. A file that is refused: exit code 1 and one JSON object
//! with `field`, `value`, `allowed`, `message`.

#[path = "shared/command.rs"]
#[allow(dead_code, reason = "each example uses a part of it")]
mod command;

use std::process::ExitCode;

use liftmargin_document::card_report::ErrorReport;
use liftmargin_document::trace::report::{TraceReport, report};
use liftmargin_document::trace::{TraceFault, read};

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    match told(&arguments) {
        Ok(told) => command::print(&told, ExitCode::SUCCESS),
        Err(error) => command::print(&error, ExitCode::FAILURE),
    }
}

fn told(arguments: &[String]) -> Result<TraceReport, Box<ErrorReport>> {
    let path = command::only_path(arguments).map_err(|error| Box::new(ErrorReport::from(&error)))?;
    let bytes = std::fs::read(path)
        .map_err(|error| Box::new(ErrorReport::from(&command::unreadable(path, "a file", &error))))?;
    Ok(report(&read(&bytes, None).map_err(|fault| Box::new(refused(path, &fault)))?))
}

fn refused(path: &str, fault: &TraceFault) -> ErrorReport {
    ErrorReport {
        field: fault.field().to_owned(),
        value: path.into(),
        allowed: fault.allowed().to_owned(),
        message: fault.to_string(),
    }
}
