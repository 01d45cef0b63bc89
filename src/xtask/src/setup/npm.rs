//! The npm packages of the browser tests, exactly as the lock file says; wasm-opt is one of them.

use std::fs;

use anyhow::{Result, bail};

use crate::shell;

/// Runs `npm ci` unless the last one was for this very lock file.
pub fn ensure() -> Result<()> {
    let folder = shell::root().join("tests/browser");
    let lock = fs::read(folder.join("package-lock.json"))?;
    let stamp = folder.join("node_modules/.installed-lock.json");
    if fs::read(&stamp).is_ok_and(|installed| installed == lock) {
        return Ok(());
    }
    if !shell::works(shell::program("npm").arg("--version")) {
        bail!("npm is missing: install Node.js 20 or newer (it brings npm), then run this again");
    }
    println!("setup: npm packages of tests/browser");
    let quiet = ["ci", "--no-audit", "--no-fund", "--loglevel=error"];
    shell::run(shell::program("npm").current_dir(&folder).args(quiet))?;
    fs::write(stamp, lock)?;
    Ok(())
}
