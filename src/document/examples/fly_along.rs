//! Follows a flight reading by reading and prints the projection after each, as JSON:
//! `cargo run -q -p liftmargin-document --example fly_along -- FILE.json`.
//!
//! The file is one of this app with a field more: `"fly_along": {"setup": ID, "meter_start_mah": 0, "readings": [{"time_s",
//! "used_mah"?, "voltage_v"?, "confirmed"?, "distance_m"?, "wind_m_s"?}]}`, times since lift-off. A reading that cannot be is
//! asked back and not taken. A file that is refused: exit code 1 and one JSON object with `field`, `value`, `allowed`,
//! `message`.

#[path = "shared/command.rs"]
#[allow(dead_code, reason = "each example uses a part of it")]
mod command;

use std::process::ExitCode;

use liftmargin_document::airborne::report::fly_along;

/// Fields beside the lists that have a meaning here.
const ASKED: [&str; 1] = ["fly_along"];

fn main() -> ExitCode {
    command::run(|arguments| fly_along(&command::opened(arguments, &ASKED)?.bundle))
}
