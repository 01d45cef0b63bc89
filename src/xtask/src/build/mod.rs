//! `cargo xtask build`: from the sources to `dist/`, which any static host serves, also below a sub-path.

mod budget;
pub mod host;
mod minify;
mod order;
mod site;
mod style;
mod wasm;

use std::fs;
use std::path::PathBuf;
use std::time::Instant;

use anyhow::{Result, bail};

use crate::{licences, setup, shell};
use minify::{Kind, bundle, minify};
use site::Site;

/// How much a build takes care of.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Care {
    /// As it is delivered.
    Full,
    /// By a profile that compiles fast, without wasm-opt: larger, slower.
    Quick,
}

/// The icons, by their names below `style/`.
pub const ICONS: [&str; 5] = [
    "icons/mark.svg",
    "icons/icon-192.png",
    "icons/icon-512.png",
    "icons/maskable-512.png",
    "icons/apple-touch-180.png",
];

/// Where the finished page stands.
pub fn dist() -> PathBuf {
    shell::root().join("dist")
}

/// `build [--quick]`
pub fn command(flags: &[&str]) -> Result<()> {
    setup::for_build()?;
    match flags {
        [] => run(Care::Full).map(drop),
        ["--quick"] => run(Care::Quick).map(drop),
        ["--keep-size"] => run(Care::Full)?.keep(),
        _ => bail!("build knows only --quick and --keep-size"),
    }
}

/// Builds, then measures against the budget (an unoptimised build is only measured).
pub fn run(care: Care) -> Result<budget::Measured> {
    let begun = Instant::now();
    let app = wasm::build(care)?;
    let site = assemble(&app)?;
    site.write(&dist())?;
    let measured = budget::measure(&site)?;
    println!("{measured}");
    println!("built {} in {:.1} s", dist().display(), begun.elapsed().as_secs_f64());
    if care == Care::Full {
        measured.within_ceiling()?;
    }
    Ok(measured)
}

/// Leaves first: a file is named by its content, which holds the names of the files it refers to.
fn assemble(app: &wasm::App) -> Result<Site> {
    let root = shell::root();
    let read = |path: &str| -> Result<Vec<u8>> {
        fs::read(root.join(path)).map_err(|error| anyhow::anyhow!("{path}: {error}"))
    };
    let mut site = Site::default();
    for icon in ICONS {
        site.add_hashed(icon, read(&format!("style/{icon}"))?, &[])?;
    }
    site.add_hashed("liftmargin.css", minify(Kind::Style, &style::layers(&style::FIRST)?)?, &[])?;
    site.add_hashed("later.css", minify(Kind::Style, &style::layers(&style::LATER)?)?, &[])?;
    site.add_hashed(wasm::WASM, app.wasm.clone(), &[])?;
    for (name, module) in &app.later {
        site.add_hashed(name, module.clone(), &[])?;
    }
    let later: Vec<&str> = app.later.iter().map(|(name, _)| name.as_str()).collect();
    site.add_hashed(wasm::SCRIPT, app.script.clone(), &later)?;
    let aside = minify(Kind::Script, &read("src/app/aside.js")?)?;
    site.add_hashed("aside.js", aside, &[wasm::SCRIPT])?;
    let start = bundle(&root.join("src/app/start.js"), &["./liftmargin.js"])?;
    site.add_hashed("start.js", start, &[wasm::SCRIPT, wasm::WASM, "later.css", "aside.js"])?;
    site.add_plain("third-party.txt", licences::notice()?.into_bytes(), &[])?;
    site.add_hashed("stopped.js", minify(Kind::Script, &read("src/app/stopped.js")?)?, &[])?;
    let installed = ["icons/mark.svg", "icons/icon-192.png", "icons/icon-512.png", "icons/maskable-512.png"];
    site.add_plain("manifest.webmanifest", read("style/manifest.webmanifest")?, &installed)?;
    let page = [
        "liftmargin.css",
        wasm::WASM,
        wasm::SCRIPT,
        "start.js",
        "stopped.js",
        "icons/mark.svg",
        "icons/apple-touch-180.png",
    ];
    site.add_page("index.html", read("index.html")?, &page, &["liftmargin.css", "start.js"])?;
    site.add_worker(&minify(Kind::Script, &read("src/app/worker.js")?)?)?;
    for (name, content) in host::files(&read("index.html")?)? {
        site.add_for_host(name, content);
    }
    Ok(site)
}
