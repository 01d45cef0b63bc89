//! Prints every check against values from outside, computed anew: `cargo xtask verify`; `--readme` writes the README's table.

use std::path::Path;
use std::process::ExitCode;

#[allow(dead_code, reason = "shared with the tests, which use more of it")]
#[path = "../it/table.rs"]
mod table;
#[path = "mod.rs"]
mod verified;

fn main() -> ExitCode {
    let lines = verified::lines();
    let table = verified::markdown(&lines);
    println!("{table}");
    let missed: Vec<_> = lines.iter().filter(|line| !line.holds()).collect();
    for line in &missed {
        eprintln!("beyond what is allowed: {} {}, {}", line.what, line.quantity, line.source);
    }
    if std::env::args().any(|word| word == "--readme")
        && let Err(error) = write(&table)
    {
        eprintln!("{error}");
        return ExitCode::FAILURE;
    }
    if missed.is_empty() { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}

fn write(table: &str) -> Result<(), String> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../README.md");
    let readme = std::fs::read_to_string(&path).map_err(|error| error.to_string())?;
    let written = verified::put_into(&readme, table).ok_or("README.md has no marks for the table")?;
    std::fs::write(&path, written).map_err(|error| error.to_string())
}
