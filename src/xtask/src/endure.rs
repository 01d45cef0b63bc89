//! `cargo xtask endure`: the long runs, for nights and releases. Killed browsers, races of tabs, damaged texts, other engines,
//! updates by a host that lies.

use anyhow::Result;

use crate::build::{self, Care};
use crate::setup;
use crate::shell::{cargo, program, root, step};

/// `endure [PATTERN…]`: the patterns choose among the browser's runs.
pub fn command(patterns: &[&str]) -> Result<()> {
    let chromium = setup::everything()?;
    step(
        cargo()
            .args([
                "test",
                "--package",
                "liftmargin-tests",
                "--test",
                "it",
                "--",
                "keep::",
                "fuzz::",
                "--nocapture",
            ])
            .env("LIFTMARGIN_ENDURE", "1"),
    )?;
    let links = ["test", "--package", "liftmargin-tests", "--test", "links", "--", "--nocapture"];
    step(cargo().args(links).env("LIFTMARGIN_ENDURE", "1"))?;
    build::run(Care::Quick)?;
    let folder = root().join("tests/browser");
    let playwright = ["playwright", "test", "--config=endure.config.ts"];
    step(program("npx").current_dir(folder).env("CHROMIUM", chromium).args(playwright).args(patterns))
}
