//! The Rust standard library's source of one release, from a Debian suite, without touching the machine's apt.

use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context as _, Result, bail};

use crate::shell;

/// The suites that carry newer compilers than the stable one.
const SUITES: [&str; 4] = ["trixie-backports", "forky", "sid", "trixie"];
const KEYRING: &str = "/usr/share/keyrings/debian-archive-keyring.gpg";

/// Downloads and unpacks the package `rust-src` of this release below `scratch`. Gives its `library` folder.
///
/// # Errors
/// No Debian tools, or no suite carries this release.
pub fn fetch(scratch: &Path, version: &str) -> Result<PathBuf> {
    if !shell::is_root() || shell::on_path("apt-get").is_none() || shell::on_path("dpkg-deb").is_none() {
        bail!("the Debian route needs root, apt-get and dpkg-deb");
    }
    let apt = Apt::new(scratch)?;
    shell::run(apt.tool("apt-get").args(["-qq", "update"]))?;
    let known = shell::output(apt.tool("apt-cache").args(["madison", "rust-src"]))?;
    let release = format!("{version}+");
    let package = known.lines().filter_map(|line| line.split('|').nth(1)).map(str::trim);
    let package = package.into_iter().find(|package| package.starts_with(&release));
    let package = package.with_context(|| format!("no Debian suite has rust-src of release {version}"))?;
    shell::run(apt.tool("apt-get").args(["-qq", "download", &format!("rust-src={package}")]))?;
    let archive = fs::read_dir(scratch)?.flatten().map(|file| file.path());
    let archive = archive.into_iter().find(|file| file.extension().is_some_and(|ending| ending == "deb"));
    let archive = archive.context("apt-get download left no file")?;
    let unpacked = scratch.join("source");
    shell::run(Command::new("dpkg-deb").arg("-x").args([&archive, &unpacked]))?;
    Ok(unpacked.join(format!("usr/src/rustc-{version}/library")))
}

/// Apt with lists and sources of its own.
struct Apt {
    scratch: PathBuf,
}

impl Apt {
    fn new(scratch: &Path) -> Result<Self> {
        for folder in ["lists/partial", "cache/archives/partial", "parts"] {
            fs::create_dir_all(scratch.join(folder))?;
        }
        fs::write(scratch.join("status"), "")?;
        let mut sources = String::new();
        for suite in SUITES {
            writeln!(sources, "deb [signed-by={KEYRING}] {} {suite} main", mirror()?)?;
        }
        fs::write(scratch.join("sources"), sources)?;
        Ok(Self { scratch: scratch.to_path_buf() })
    }

    fn tool(&self, name: &str) -> Command {
        let mut command = Command::new(name);
        command.current_dir(&self.scratch);
        let inside = |part: &str| self.scratch.join(part).display().to_string();
        for (key, value) in [
            ("Dir::Etc::sourcelist", inside("sources")),
            ("Dir::Etc::sourceparts", inside("parts")),
            ("Dir::State::lists", inside("lists")),
            ("Dir::State::status", inside("status")),
            ("Dir::Cache", inside("cache")),
            ("APT::Sandbox::User", "root".into()),
        ] {
            command.args(["-o", &format!("{key}={value}")]);
        }
        command
    }
}

/// The mirror that this machine uses already.
fn mirror() -> Result<String> {
    let asked = ["indextargets", "--format", "$(REPO_URI)", "Created-By: Packages"];
    let known = shell::output(Command::new("apt-get").args(asked))?;
    let mirror = known.lines().find(|line| line.trim_end().ends_with("/debian/"));
    Ok(mirror.context("apt knows no Debian mirror")?.to_owned())
}
