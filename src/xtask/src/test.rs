//! `cargo xtask test`: all there is, from the set-up to the browser.

use anyhow::Result;

use crate::build::{self, Care};
use crate::shell::{program, step};
use crate::{check, setup};

/// `test [PATTERN…]`: the patterns choose among the browser tests.
pub fn command(patterns: &[&str]) -> Result<()> {
    let chromium = setup::everything()?;
    check::run()?;
    build::run(Care::Full)?;
    let folder = crate::shell::root().join("tests/browser");
    let playwright = ["playwright", "test"];
    step(program("npx").current_dir(folder).env("CHROMIUM", chromium).args(playwright).args(patterns))?;
    println!("xtask: all tests passed");
    Ok(())
}
