//! `cargo xtask bench`: the native benchmarks, and those in the built page with the processor throttled.

use anyhow::Result;

use crate::build::{self, Care};
use crate::setup;
use crate::shell::{cargo, program, root, step};

/// `bench`
pub fn command() -> Result<()> {
    let chromium = setup::everything()?;
    step(cargo().args(["bench", "--package", "liftmargin-tests"]))?;
    build::run(Care::Full)?;
    let folder = root().join("tests/browser");
    let playwright = ["playwright", "test", "--config=bench.config.ts", "--pass-with-no-tests"];
    step(program("npx").current_dir(folder).env("CHROMIUM", chromium).args(playwright))
}
