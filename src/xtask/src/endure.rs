//! `cargo xtask endure`: the long runs, for nights and releases. Killed browsers, races of tabs, damaged texts, other engines,
//! updates by a host that lies.

use std::fs;
use std::path::PathBuf;
use std::time::SystemTime;

use anyhow::Result;

use crate::build::{self, Care};
use crate::setup;
use crate::shell::{cargo, program, root, step};

/// `endure [PATTERN…]`: the patterns choose among the browser's runs.
pub fn command(patterns: &[&str]) -> Result<()> {
    let chromium = setup::everything()?;
    let native = ["test", "--package", "liftmargin-tests", "--test"];
    let long = |arguments: &[&str]| -> Result<()> {
        step(cargo().args(native).args(arguments).env("LIFTMARGIN_ENDURE", "1"))
    };
    long(&["it", "--", "keep", "--nocapture"])?;
    long(&["links", "--", "--nocapture"])?;
    // A minute each, side by side; each time other seeds.
    let from = SystemTime::now().duration_since(SystemTime::UNIX_EPOCH)?.as_secs() * 1_000_000;
    let fuzz = ["fuzz", "--profile", "fuzz", "--", "--nocapture"];
    step(
        cargo()
            .args(native)
            .args(fuzz)
            .env("LIFTMARGIN_ENDURE", "1")
            .env("LIFTMARGIN_FUZZ_FROM", from.to_string()),
    )?;
    // Two real builds, each an update of the other.
    let later = match std::env::var_os("LATER") {
        Some(given) => PathBuf::from(given),
        None => other_build()?,
    };
    build::run(Care::Quick)?;
    let folder = root().join("tests/browser");
    let playwright = ["playwright", "test", "--config=endure.config.ts"];
    step(
        program("npx")
            .current_dir(folder)
            .env("CHROMIUM", chromium)
            .env("LATER", later)
            .args(playwright)
            .args(patterns),
    )
}

/// A full build, beside the quick one that is tried.
fn other_build() -> Result<PathBuf> {
    build::run(Care::Full)?;
    let later = root().join("target/endure-later");
    if later.exists() {
        fs::remove_dir_all(&later)?;
    }
    fs::rename(build::dist(), &later)?;
    Ok(later)
}
