//! A Chromium for the browser tests: one that is installed, else Debian's package.

use std::env;
use std::path::PathBuf;

use anyhow::{Result, bail};

use crate::shell;

const NAMES: [&str; 4] = ["chromium", "chromium-browser", "google-chrome", "google-chrome-stable"];

/// The browser's path.
///
/// # Errors
/// None is there and none can be installed, or `$CHROMIUM` is not a file.
pub fn ensure() -> Result<PathBuf> {
    if let Some(chosen) = env::var_os("CHROMIUM").map(PathBuf::from) {
        if !chosen.is_file() {
            bail!("CHROMIUM names no file: {}", chosen.display());
        }
        return Ok(chosen);
    }
    if let Some(found) = find() {
        return Ok(found);
    }
    if shell::is_root() && shell::on_path("apt-get").is_some() {
        println!("setup: Chromium, from Debian's package (some hundred megabytes)");
        shell::run(shell::program("apt-get").args(["-qq", "update"]))?;
        let install = ["-qq", "install", "--yes", "--no-install-recommends", "chromium"];
        shell::run(shell::program("apt-get").env("DEBIAN_FRONTEND", "noninteractive").args(install))?;
    }
    find().ok_or_else(|| {
        anyhow::anyhow!(
            "no Chromium for the browser tests: install the package `chromium`, or set CHROMIUM to one's path"
        )
    })
}

fn find() -> Option<PathBuf> {
    NAMES.iter().find_map(|name| shell::on_path(name))
}
