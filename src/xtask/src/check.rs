//! `cargo xtask check`: formatting, lints, native tests. Fast, without a browser.

use anyhow::Result;

use crate::licences;
use crate::setup::{self, wasm_target::TARGET};
use crate::shell::{cargo, step, works};

/// `check`
pub fn command() -> Result<()> {
    setup::for_build()?;
    run()
}

/// Without looking at the set-up first.
pub fn run() -> Result<()> {
    licences::check()?;
    if works(cargo().args(["deny", "--version"])) {
        step(cargo().args(["deny", "--offline", "check", "licenses", "bans", "sources"]))?;
    }
    let deny = ["--", "-D", "warnings"];
    step(cargo().args(["fmt", "--all", "--check"]))?;
    step(cargo().args(["clippy", "--workspace", "--all-targets"]).args(deny))?;
    step(cargo().args(["clippy", "--package", "liftmargin-app", "--target", TARGET]).args(deny))?;
    if works(cargo().args(["nextest", "--version"])) {
        step(cargo().args(["nextest", "run", "--workspace", "--no-fail-fast"]))?;
    } else {
        step(cargo().args(["test", "--workspace", "--all-targets", "--no-fail-fast"]))?;
    }
    // nextest leaves the examples in the documentation out, and `--all-targets` does too.
    step(cargo().args(["test", "--workspace", "--doc"]))
}
