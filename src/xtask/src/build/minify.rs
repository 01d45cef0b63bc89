//! Scripts and style sheets without what only people read.

use std::io::Write as _;
use std::process::Stdio;

use anyhow::{Context as _, Result, ensure};

use crate::shell;

/// What is made small.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// A script that others import from: its exports keep their names.
    Module,
    /// A script that stands alone.
    Script,
    /// A style sheet.
    Style,
}

/// The text, smaller, by the npm package `esbuild`.
pub fn minify(kind: Kind, text: &[u8]) -> Result<Vec<u8>> {
    let flags: &[&str] = match kind {
        Kind::Module => &["--loader=js", "--format=esm", "--target=es2022"],
        Kind::Script => &["--loader=js", "--target=es2022"],
        Kind::Style => &["--loader=css"],
    };
    let tool = shell::root().join("tests/browser/node_modules/.bin/esbuild");
    let mut child = shell::program(&tool)
        .arg("--minify")
        .args(flags)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .with_context(|| format!("{}", tool.display()))?;
    // It reads all of its input before it writes.
    child.stdin.take().context("no way into esbuild")?.write_all(text)?;
    let done = child.wait_with_output()?;
    ensure!(done.status.success(), "esbuild refused a {kind:?}");
    Ok(done.stdout)
}
