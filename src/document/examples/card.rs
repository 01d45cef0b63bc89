//! Prints the card of every setup in a file as JSON: `cargo run -q -p liftmargin-document --example card -- FILE.json`.
//!
//! A file that is refused: exit code 1 and one JSON object with `field`, `value`, `allowed`, `message`. Fields of the
//! file that have no meaning are named on the error stream.

#[path = "shared/command.rs"]
#[allow(dead_code, reason = "each example uses a part of it")]
mod command;

use std::process::ExitCode;

use liftmargin_document::card_report::report;

fn main() -> ExitCode {
    command::run(|arguments| report(&command::opened(arguments, &[])?.bundle))
}
