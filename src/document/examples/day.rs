//! Prints a day's schedule: each event with start, end, pack set and charger, flights done, first stall and bottleneck, fewest sets, as JSON: `cargo run -q -p liftmargin-document --example day -- FILE.json`.
//!
//! The format stands at `ground::day_asked`; a sample is `day.json` beside this file. A file that is refused: exit code 1
//! and one JSON object with `field`, `value`, `allowed`, `message`.

#[path = "shared/command.rs"]
#[allow(dead_code, reason = "each example uses a part of it")]
mod command;

use std::process::ExitCode;

use liftmargin_document::ground::day;

fn main() -> ExitCode {
    command::run(|arguments| day(&command::text_of(command::only_path(arguments)?)?))
}
