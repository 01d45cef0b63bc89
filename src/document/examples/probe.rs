//! Answers questions to the physics as JSON: `cargo run -q -p liftmargin-document --example probe -- FILE.json`.
//!
//! The format stands in DEVELOPERS.md. A file that is refused: exit code 1 and one JSON object with `field`, `value`,
//! `allowed`, `message`; a question that is refused has such an object in its place.

#[path = "shared/command.rs"]
#[allow(dead_code, reason = "each example uses a part of it")]
mod command;

use std::process::ExitCode;

use liftmargin_document::probe::answers;

fn main() -> ExitCode {
    command::run(|arguments| answers(&command::text_of(command::only_path(arguments)?)?))
}
