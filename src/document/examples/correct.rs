//! Prints what the flights of a file teach of each airframe, as JSON:
//! `cargo run -q -p liftmargin-document --example correct -- FILE.json`.
//!
//! The file is what the log exports (`airframes`, `flown_setups`, `flights`), or any file of this app with `flights` whose
//! `setup` stands in it; `"airframe": ID` asks for one alone. Factor on power, its 80 and 90 % intervals, which flights are
//! odd and why. A file that is refused: exit code 1 and one JSON object with `field`, `value`, `allowed`, `message`.

#[path = "shared/command.rs"]
#[allow(dead_code, reason = "each example uses a part of it")]
mod command;

use std::process::ExitCode;

use liftmargin_document::log::report::corrections;

/// Fields beside the lists that have a meaning here.
const ASKED: [&str; 2] = ["airframe", "now_unix_ms"];

fn main() -> ExitCode {
    command::run(|arguments| corrections(&command::opened(arguments, &ASKED)?.bundle))
}
