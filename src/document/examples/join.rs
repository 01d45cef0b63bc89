//! Prints whether strings at rest may be connected in parallel: equalising current, heat, verdict, what to charge to match, as JSON: `cargo run -q -p liftmargin-document --example join -- FILE.json`.
//!
//! The format stands at `ground::joining`; a sample is `join.json` beside this file. A file that is refused: exit code 1
//! and one JSON object with `field`, `value`, `allowed`, `message`.

#[path = "shared/command.rs"]
#[allow(dead_code, reason = "each example uses a part of it")]
mod command;

use std::process::ExitCode;

use liftmargin_document::ground::join;

fn main() -> ExitCode {
    command::run(|arguments| join(&command::text_of(command::only_path(arguments)?)?))
}
