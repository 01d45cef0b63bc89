//! Running other programs and finding our own folders.

use std::env;
use std::ffi::OsStr;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use anyhow::{Context as _, Result, bail};

/// The workspace's root folder. Read when the tool runs, so that a moved clone is still right.
pub fn root() -> PathBuf {
    let manifest = env::var_os("CARGO_MANIFEST_DIR");
    let package = manifest.map_or_else(|| PathBuf::from(env!("CARGO_MANIFEST_DIR")), PathBuf::from);
    package.ancestors().nth(2).map_or_else(|| PathBuf::from("."), Path::to_path_buf)
}

/// Where cargo puts what it builds.
pub fn target() -> PathBuf {
    env::var_os("CARGO_TARGET_DIR").map_or_else(|| root().join("target"), PathBuf::from)
}

/// The cargo that started this tool.
pub fn cargo() -> Command {
    program(env::var_os("CARGO").unwrap_or_else(|| "cargo".into()))
}

/// A program, started in the workspace's root.
pub fn program(name: impl AsRef<OsStr>) -> Command {
    let mut command = Command::new(name);
    command.current_dir(root());
    command
}

/// Runs to the end with its output shown as it is; anything but success is an error.
pub fn run(command: &mut Command) -> Result<()> {
    let line = line(command);
    let status = command.status().with_context(|| format!("could not start: {line}"))?;
    if !status.success() {
        bail!("failed ({status}): {line}");
    }
    Ok(())
}

/// Same as [`run`], with the command line printed first.
pub fn step(command: &mut Command) -> Result<()> {
    println!("$ {}", line(command));
    run(command)
}

/// What the program prints on standard output.
pub fn output(command: &mut Command) -> Result<String> {
    let line = line(command);
    let out =
        command.stderr(Stdio::inherit()).output().with_context(|| format!("could not start: {line}"))?;
    if !out.status.success() {
        bail!("failed ({}): {line}", out.status);
    }
    Ok(String::from_utf8(out.stdout)?)
}

/// Whether it can be started at all and then succeeds, quietly.
pub fn works(command: &mut Command) -> bool {
    let quiet = command.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
    quiet.status().is_ok_and(|status| status.success())
}

/// The first file of this name in the folders of PATH.
pub fn on_path(name: &str) -> Option<PathBuf> {
    let path = env::var_os("PATH")?;
    env::split_paths(&path).map(|folder| folder.join(name)).find(|file| file.is_file())
}

/// Whether this process may install packages for the whole machine.
pub fn is_root() -> bool {
    output(program("id").arg("-u")).is_ok_and(|id| id.trim() == "0")
}

fn line(command: &Command) -> String {
    let words = std::iter::once(command.get_program()).chain(command.get_args());
    words.map(OsStr::to_string_lossy).collect::<Vec<_>>().join(" ")
}
