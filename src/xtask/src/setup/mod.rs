//! `cargo xtask setup`: what a fresh machine lacks. Each part looks first and does nothing when all is there.

mod chromium;
mod debian_source;
mod npm;
pub mod wasm_target;

use std::path::PathBuf;

use anyhow::Result;

/// All that the build needs: the wasm target and the npm packages.
pub fn for_build() -> Result<()> {
    wasm_target::ensure()?;
    npm::ensure()
}

/// All that the browser tests need besides. Gives the Chromium to use.
pub fn everything() -> Result<PathBuf> {
    for_build()?;
    chromium::ensure()
}
