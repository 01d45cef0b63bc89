//! `cargo xtask verify`: every check against values from outside, computed anew and printed.

use anyhow::{Result, bail};

use crate::shell::{cargo, run};

/// `verify [--readme]`
pub fn command(flags: &[&str]) -> Result<()> {
    if let Some(other) = flags.iter().find(|flag| **flag != "--readme") {
        bail!("verify knows --readme, not {other}");
    }
    let example = ["run", "--quiet", "--package", "liftmargin-tests", "--example", "verify", "--"];
    run(cargo().args(example).args(flags))
}
