//! The standard library for wasm32-unknown-unknown: by rustup, or built from Debian's source of the same release.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context as _, Result, bail};

use super::debian_source;
use crate::shell;

/// The target of the app.
pub const TARGET: &str = "wasm32-unknown-unknown";

/// Puts the target's library where rustc looks for it, or into `$WASM_STD_DEST` to try the Debian route out.
pub fn ensure() -> Result<()> {
    let sysroot = PathBuf::from(shell::output(Command::new("rustc").args(["--print", "sysroot"]))?.trim());
    let trial = std::env::var_os("WASM_STD_DEST").map(PathBuf::from);
    let place = trial.clone().unwrap_or_else(|| sysroot.join("lib/rustlib").join(TARGET).join("lib"));
    if holds_std(&place) {
        return Ok(());
    }
    // Where rustup's server does not answer, it would try for minutes.
    let rustup = ["60", "rustup", "target", "add", TARGET];
    if trial.is_none() && shell::works(Command::new("timeout").args(rustup)) && holds_std(&place) {
        println!("setup: {TARGET} by rustup");
        return Ok(());
    }
    let version = shell::output(Command::new("rustc").arg("-V"))?;
    let version = version.split(' ').nth(1).context("rustc -V names no version")?;
    println!(
        "setup: {TARGET} {version}, built from Debian's source since rustup gave none (about two minutes)"
    );
    let scratch = shell::target().join("wasm-std");
    if scratch.exists() {
        fs::remove_dir_all(&scratch)?;
    }
    let library = debian_source::fetch(&scratch, version).with_context(|| {
        format!("no {TARGET} for this compiler; where rustup's server answers, `rustup target add {TARGET}` brings it")
    })?;
    build(&scratch.join("seed"), &sysroot, &library, &place)?;
    fs::remove_dir_all(&scratch)?;
    Ok(())
}

fn holds_std(place: &Path) -> bool {
    let Ok(files) = fs::read_dir(place) else { return false };
    files.flatten().any(|file| file.file_name().to_string_lossy().starts_with("libstd-"))
}

/// Builds the library once, by an empty package, and copies what came out.
fn build(seed: &Path, sysroot: &Path, library: &Path, place: &Path) -> Result<()> {
    fs::create_dir_all(seed.join("src"))?;
    fs::write(seed.join("src/lib.rs"), "#![no_std]\n")?;
    // A workspace of its own: the folder stands inside ours.
    let manifest = "[package]\nname = \"seed\"\nversion = \"0.0.0\"\nedition = \"2021\"\n\n[workspace]\n";
    fs::write(seed.join("Cargo.toml"), manifest)?;

    let source = sysroot.join("lib/rustlib/src/rust/library");
    let borrowed = SourceLink::lend(&source, library)?;
    let mut cargo = shell::cargo();
    cargo.current_dir(seed).args([
        "build",
        "--quiet",
        "--release",
        "--target",
        TARGET,
        "--target-dir",
        "out",
    ]);
    cargo.arg("-Zbuild-std=std,panic_abort,panic_unwind,test");
    // The first because -Zbuild-std is asked of a stable compiler, the second because the app is built with LTO.
    cargo.env("RUSTC_BOOTSTRAP", "1").env("RUSTFLAGS", "-Cembed-bitcode=yes");
    shell::run(&mut cargo)?;
    drop(borrowed);

    fs::create_dir_all(place)?;
    for file in fs::read_dir(seed.join("out").join(TARGET).join("release/deps"))? {
        let file = file?;
        let name = file.file_name().to_string_lossy().into_owned();
        let is_library = Path::new(&name).extension().is_some_and(|ending| ending == "rlib");
        if is_library && !name.starts_with("libseed-") {
            fs::copy(file.path(), place.join(&name))?;
        }
    }
    if !holds_std(place) {
        bail!("the build of the standard library left no libstd");
    }
    Ok(())
}

/// The link to the source inside the sysroot, the one place where -Zbuild-std looks; gone when the build is over.
struct SourceLink(Option<PathBuf>);

impl SourceLink {
    /// Does nothing where rustup's own rust-src stands: that is the same release's.
    fn lend(source: &Path, library: &Path) -> Result<Self> {
        if source.exists() {
            return Ok(Self(None));
        }
        fs::create_dir_all(source.parent().context("a source folder has a parent")?)?;
        if source.is_symlink() {
            fs::remove_file(source)?;
        }
        #[cfg(unix)]
        std::os::unix::fs::symlink(library, source)?;
        #[cfg(not(unix))]
        bail!("the Debian route needs a Unix: {}", library.display());
        #[cfg(unix)]
        Ok(Self(Some(source.to_path_buf())))
    }
}

impl Drop for SourceLink {
    fn drop(&mut self) {
        let Some(link) = &self.0 else { return };
        let _ = fs::remove_file(link);
        // Only empty folders go: `remove_dir` refuses others.
        for folder in link.ancestors().skip(1).take(2) {
            let _ = fs::remove_dir(folder);
        }
    }
}
