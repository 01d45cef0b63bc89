//! The app as WebAssembly with its JavaScript: cargo, then the splitter and wasm-bindgen as libraries, then wasm-opt.

use std::fs;
use std::mem;
use std::path::{Path, PathBuf};

use anyhow::{Context as _, Result, anyhow, ensure};
use wasm_bindgen_cli_support::Bindgen;

use super::Care;
use super::budget::gzip;
use super::minify::bundle;
use super::order;
use crate::setup::wasm_target::TARGET;
use crate::shell;

/// The script that loads the app.
pub const SCRIPT: &str = "liftmargin.js";
/// The app, packed, as the start script names it: small on hosts that pack nothing, too.
pub const WASM: &str = "liftmargin_bg.wasm.gz";

/// The splitter's loader, which `SCRIPT` imports.
const LOADER: &str = "./later.js";

/// What the browser loads.
pub struct App {
    /// The module that draws the first card, packed.
    pub wasm: Vec<u8>,
    /// The modules that follow, by their names in the loader, packed.
    pub later: Vec<(String, Vec<u8>)>,
    /// The loader of all.
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
            .args(["rustc", "--profile", profile, "--target", TARGET])
            .args(package)
            // The splitter goes by what refers to what.
            .args(["--", "-Clink-arg=--emit-relocs"])
            .env("CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_RUSTFLAGS", flags(care)?),
    )?;

    let built = shell::target().join(TARGET).join(profile).join("liftmargin-app.wasm");
    let folder = shell::target().join("web");
    if folder.exists() {
        fs::remove_dir_all(&folder)?;
    }
    fs::create_dir_all(&folder)?;
    let first = folder.join("first.wasm");
    let later = split(&built, &folder, &first)?;

    bind(&first, &folder)?;
    let finished = |module: &Path, level: &str| match care {
        Care::Quick => gzip(&fs::read(module)?),
        Care::Full => {
            let optimised = module.with_extension("optimised");
            optimise(module, &optimised, &[level])?;
            let (named, sorted) = (module.with_extension("named"), module.with_extension("sorted"));
            fs::write(&named, order::named(&fs::read(optimised)?)?)?;
            optimise(&named, &sorted, &[order::SORTED])?;
            packed(&fs::read(sorted)?)
        }
    };
    // A keystroke runs in it: half a percent larger than the smallest, and quicker.
    let wasm = finished(&folder.join("liftmargin_bg.wasm"), "-O3")?;
    let named = |module: &PathBuf| {
        let name = module.file_name().context("a module has a name")?.to_string_lossy();
        Ok((format!("{name}.gz"), finished(module, "-Oz")?))
    };
    let later = later.iter().map(named).collect::<Result<_>>()?;
    Ok(App { wasm, later, script: bundle(&folder.join(SCRIPT), &[])? })
}

/// Parts the module at the split points of `screens/later.rs`: the first one, and those that follow, by their paths.
///
/// The splitter writes a loader that fetches plain modules; ours are packed, like the first.
fn split(built: &Path, folder: &Path, first: &Path) -> Result<Vec<PathBuf>> {
    let module = fs::read(built).with_context(|| format!("{}", built.display()))?;
    let mut options = wasm_split_cli_support::Options::new(&module);
    options.output_dir = folder;
    options.main_out_path = first;
    options.main_module = "./liftmargin.js";
    options.link_name = LOADER;
    let parted =
        wasm_split_cli_support::transform(options).map_err(|error| anyhow!("splitting: {error:#}"))?;

    let loader = folder.join(LOADER);
    let mut text = fs::read_to_string(&loader)?;
    for (from, to) in
        [(".wasm\"", ".wasm.gz\""), ("instantiateStreaming(src", "instantiateStreaming(src.then(unpacked)")]
    {
        ensure!(text.contains(from), "the splitter's loader has changed: {from} is not in it");
        text = text.replace(from, to);
    }
    fs::write(&loader, format!("import {{ unpacked }} from \"./unpacked.js\";\n{text}"))?;
    fs::copy(shell::root().join("src/app/unpacked.js"), folder.join("unpacked.js"))?;
    Ok(parted.split_modules)
}

/// Gives the first module its way to the page's own functions, and the loader.
fn bind(first: &Path, folder: &Path) -> Result<()> {
    let mut bindgen = Bindgen::new();
    bindgen
        .input_path(first)
        .out_name("liftmargin")
        .web(true)?
        .typescript(false)
        .omit_default_module_path(true)
        // The modules that follow link with the first by its exports.
        .keep_lld_exports(true)
        .demangle(false);
    bindgen.remove_name_section(true).remove_producers_section(true);
    let mut output = bindgen.generate_output().context("wasm-bindgen")?;
    // What the module takes from the script, by short names: the long ones are a quarter of the script.
    let mut renamed = Vec::new();
    let own = |name: &str| name.starts_with("__wb");
    for (index, import) in output.wasm_mut().imports.iter_mut().filter(|import| own(&import.name)).enumerate()
    {
        let short = format!("i{index}");
        renamed.push((mem::replace(&mut import.name, short.clone()), short));
    }
    output.emit(folder).context("wasm-bindgen")?;
    rename(&folder.join(SCRIPT), &renamed)?;
    let snippets = folder.join("snippets");
    ensure!(
        !snippets.exists(),
        "a dependency brings JavaScript of its own, which dist/ has no place for yet"
    );
    Ok(())
}

/// Gives what a script hands to its module other names.
fn rename(script: &Path, names: &[(String, String)]) -> Result<()> {
    let mut text = fs::read_to_string(script)?;
    for (long, short) in names {
        let key = format!(" {long}: ");
        ensure!(
            text.matches(&key).count() == 1,
            "wasm-bindgen's script has changed: {long} is not in it once"
        );
        text = text.replace(&key, &format!(" {short}: "));
    }
    Ok(fs::write(script, text)?)
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
    let always = "--cfg=erase_components";
    if care == Care::Quick {
        return Ok(always.to_owned());
    }
    let cargo_home = match std::env::var_os("CARGO_HOME") {
        Some(home) => home.into(),
        None => std::env::home_dir().context("no home directory")?.join(".cargo"),
    };
    let compiler = shell::output(shell::program("rustc").args(["--print", "sysroot"]))?;
    Ok(format!(
        "{always} --remap-path-prefix={}=cargo --remap-path-prefix={}=rust --remap-path-prefix={}=liftmargin",
        cargo_home.display(),
        compiler.trim(),
        shell::root().display()
    ))
}

fn optimise(from: &Path, to: &Path, passes: &[&str]) -> Result<()> {
    let tool = shell::root().join("tests/browser/node_modules/binaryen/bin/wasm-opt");
    shell::step(shell::program("node").arg(tool).args(passes).arg(from).arg("-o").arg(to))
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
