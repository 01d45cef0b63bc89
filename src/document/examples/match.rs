//! Prints which packs go together, string by string, and what is gained against taking them in order, as JSON: `cargo run -q -p liftmargin-document --example match -- FILE.json`.
//!
//! The format stands at `ground::matching`; a sample is `match.json` beside this file. A file that is refused: exit code 1
//! and one JSON object with `field`, `value`, `allowed`, `message`.

#[path = "shared/command.rs"]
#[allow(dead_code, reason = "each example uses a part of it")]
mod command;

use std::process::ExitCode;

use liftmargin_document::ground::match_packs;

fn main() -> ExitCode {
    command::run(|arguments| match_packs(&command::text_of(command::only_path(arguments)?)?))
}
