//! Scripts and style sheets without what only people read.

use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::Stdio;

use anyhow::{Context as _, Result, ensure};

use crate::shell;

/// What is made small.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// A script that stands alone.
    Script,
    /// A style sheet.
    Style,
}

/// The text, smaller, by the npm package `esbuild`.
pub fn minify(kind: Kind, text: &[u8]) -> Result<Vec<u8>> {
    let flags: &[&str] = match kind {
        Kind::Script => &["--loader=js", "--target=es2022"],
        Kind::Style => &["--loader=css"],
    };
    let tool = tool();
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

/// A script that others import from, with all that it imports, in one text: its exports keep their names.
/// What is left out, by the path it is imported by, stays an import.
pub fn bundle(entry: &Path, left_out: &[&str]) -> Result<Vec<u8>> {
    let folder = entry.parent().context("an entry stands in a folder")?;
    let done = shell::program(tool())
        .current_dir(folder)
        .args(["--bundle", "--minify", "--format=esm", "--target=es2022"])
        .args(left_out.iter().map(|path| format!("--external:{path}")))
        .arg(entry)
        .output()?;
    ensure!(
        done.status.success(),
        "esbuild refused {}: {}",
        entry.display(),
        String::from_utf8_lossy(&done.stderr)
    );
    Ok(done.stdout)
}

fn tool() -> PathBuf {
    shell::root().join("tests/browser/node_modules/.bin/esbuild")
}
