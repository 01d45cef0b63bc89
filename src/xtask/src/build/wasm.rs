//! The app as WebAssembly with its JavaScript: cargo, then wasm-bindgen as a library, then wasm-opt.

use std::fs;
use std::path::Path;

use anyhow::{Context as _, Result, ensure};
use wasm_bindgen_cli_support::Bindgen;

use super::Care;
use super::budget::gzip;
use crate::setup::wasm_target::TARGET;
use crate::shell;

/// The script that loads the app.
pub const SCRIPT: &str = "liftmargin.js";
/// The app, packed, as the start script names it: small on hosts that pack nothing, too.
pub const WASM: &str = "liftmargin_bg.wasm.gz";

/// What the browser loads.
pub struct App {
    /// The module, packed.
    pub wasm: Vec<u8>,
    /// Its loader.
    pub script: Vec<u8>,
}

/// Builds the app in release and prepares it for the browser.
pub fn build(care: Care) -> Result<App> {
    same_wasm_bindgen(&fs::read_to_string(shell::root().join("Cargo.lock"))?)?;
    let profile = match care {
        Care::Full => "release",
        Care::Quick => "quick",
    };
    let package = ["--package", "liftmargin-app", "--bin", "liftmargin-app"];
    shell::step(
        shell::cargo()
            .args(["build", "--profile", profile, "--target", TARGET])
            .args(package)
            .env("CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_RUSTFLAGS", flags(care)?),
    )?;

    let built = shell::target().join(TARGET).join(profile).join("liftmargin-app.wasm");
    let folder = shell::target().join("web");
    if folder.exists() {
        fs::remove_dir_all(&folder)?;
    }
    let mut bindgen = Bindgen::new();
    bindgen
        .input_path(&built)
        .out_name("liftmargin")
        .web(true)?
        .typescript(false)
        .omit_default_module_path(true);
    bindgen.remove_name_section(true).remove_producers_section(true);
    let mut output = bindgen.generate_output().context("wasm-bindgen")?;
    output.emit(&folder).context("wasm-bindgen")?;
    let snippets = folder.join("snippets");
    ensure!(
        !snippets.exists(),
        "a dependency brings JavaScript of its own, which dist/ has no place for yet"
    );

    let bound = folder.join("liftmargin_bg.wasm");
    let wasm = match care {
        Care::Quick => gzip(&fs::read(bound)?)?,
        Care::Full => {
            let smallest = folder.join("smallest.wasm");
            shrink(&bound, &smallest)?;
            packed(&fs::read(smallest)?)?
        }
    };
    Ok(App { wasm, script: fs::read(folder.join(SCRIPT))? })
}

/// The same format as gzip's own, packed by trying much more: 3 to 5 % less to load over one bar of signal.
fn packed(module: &[u8]) -> Result<Vec<u8>> {
    let mut packed = Vec::new();
    zopfli::compress(zopfli::Options::default(), zopfli::Format::Gzip, module, &mut packed)?;
    Ok(packed)
}

/// Flags for the compiler, for size and for sameness.
///
/// `erase_components`: views of few types, which is a tenth of what is loaded.
/// Panic messages carry source paths: without the remapping the builder's own would be published, and the content hash
/// would differ from machine to machine. A quick build is published nowhere: without paths in its flags another worktree's
/// compiled libraries serve it as well.
fn flags(care: Care) -> Result<String> {
    let erased = "--cfg=erase_components";
    if care == Care::Quick {
        return Ok(erased.to_owned());
    }
    let cargo_home = match std::env::var_os("CARGO_HOME") {
        Some(home) => home.into(),
        None => std::env::home_dir().context("no home directory")?.join(".cargo"),
    };
    let compiler = shell::output(shell::program("rustc").args(["--print", "sysroot"]))?;
    Ok(format!(
        "{erased} --remap-path-prefix={}=cargo --remap-path-prefix={}=rust --remap-path-prefix={}=liftmargin",
        cargo_home.display(),
        compiler.trim(),
        shell::root().display()
    ))
}

fn shrink(from: &Path, to: &Path) -> Result<()> {
    let tool = shell::root().join("tests/browser/node_modules/binaryen/bin/wasm-opt");
    shell::step(shell::program("node").arg(tool).arg("-Oz").arg(from).arg("-o").arg(to))
}

/// The library must be exactly the version that the app was built with: they share a private format.
fn same_wasm_bindgen(lock: &str) -> Result<()> {
    let app = locked(lock, "wasm-bindgen")?;
    let tool = locked(lock, "wasm-bindgen-cli-support")?;
    ensure!(
        app == tool,
        "Cargo.lock has wasm-bindgen {app} but wasm-bindgen-cli-support {tool}: set src/xtask/Cargo.toml to ={app}"
    );
    Ok(())
}

fn locked<'a>(lock: &'a str, package: &str) -> Result<&'a str> {
    let entry = format!("name = \"{package}\"\nversion = \"");
    let (_, rest) = lock.split_once(&entry).with_context(|| format!("Cargo.lock has no {package}"))?;
    Ok(rest.split('"').next().unwrap_or_default())
}

#[cfg(test)]
mod tests {
    use super::same_wasm_bindgen;

    fn lock(app: &str, tool: &str) -> String {
        format!(
            "[[package]]\nname = \"wasm-bindgen\"\nversion = \"{app}\"\n\n\
             [[package]]\nname = \"wasm-bindgen-cli-support\"\nversion = \"{tool}\"\n"
        )
    }

    #[test]
    fn versions_that_differ_are_told() {
        assert!(same_wasm_bindgen(&lock("0.2.130", "0.2.130")).is_ok());
        let told = same_wasm_bindgen(&lock("0.2.131", "0.2.130")).map_err(|error| error.to_string());
        assert!(told.is_err_and(|words| words.contains("=0.2.131")));
    }
}
