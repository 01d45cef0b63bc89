//! What the app is built from and by, held against `deny.toml`: licences, bans, sources; and the notice that the app ships.
//!
//! `cargo deny` checks the same file, and the texts of the licences too; where it is installed it runs beside this check, which
//! needs neither it nor a network. Advisories need the network and are checked by neither (see `deny.toml`).

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Context as _, Result, ensure};
use serde_json::Value;

use crate::setup::wasm_target::TARGET;
use crate::shell;

/// A package that is part of the app.
struct Package {
    name: String,
    version: String,
    licence: String,
    folder: PathBuf,
}

/// The one registry: `deny.toml` knows no other.
const REGISTRY: &str = "registry+https://github.com/rust-lang/crates.io-index";

/// Refuses licences that `deny.toml` does not allow, sources that are not the one registry, and requirements that any version fits;
/// of everything that is locked: the app, the tools and the tests.
///
/// # Errors
/// Naming the first package that does not fit.
pub fn check() -> Result<()> {
    let allowed = allowed()?;
    sources(&fs::read_to_string(shell::root().join("Cargo.lock"))?)?;
    let metadata = metadata()?;
    let all = metadata["packages"].as_array().context("cargo metadata lists no packages")?;
    wildcards(all)?;
    for package in all {
        let (name, licence) = (&package["name"], package["license"].as_str().unwrap_or_default());
        chosen(licence, &allowed).with_context(|| format!("{name} {}: {licence}", package["version"]))?;
    }
    println!("licences, bans, sources: {} packages are as deny.toml has it", all.len());
    Ok(())
}

/// Every locked package is our own, or of the one registry and with its checksum.
fn sources(lock: &str) -> Result<()> {
    for package in lock.split("[[package]]").skip(1) {
        let name = package.lines().find(|line| line.starts_with("name")).unwrap_or_default();
        let Some(source) = package.lines().find_map(|line| line.strip_prefix("source = ")) else { continue };
        ensure!(source.trim_matches('"') == REGISTRY, "{name} comes from {source}");
        ensure!(package.contains("\nchecksum = "), "{name} has no checksum");
    }
    Ok(())
}

/// Our own manifests say which versions they want, but of each other.
fn wildcards(packages: &[Value]) -> Result<()> {
    for package in packages.iter().filter(|package| package["source"].is_null()) {
        for wanted in package["dependencies"].as_array().into_iter().flatten() {
            let is_any = wanted["req"] == "*" && wanted["path"].is_null();
            ensure!(!is_any, "{} wants any version of {}", package["name"], wanted["name"]);
        }
    }
    Ok(())
}

/// The notice: each package with its licence and who holds the rights, then each text once.
///
/// # Errors
/// As `check`.
pub fn notice() -> Result<String> {
    let allowed = allowed()?;
    let mut list = String::from("Liftmargin is built from the work of others. Thank you.\n\n");
    let mut texts: BTreeMap<String, String> = BTreeMap::new();
    for package in packages()? {
        let licence = chosen(&package.licence, &allowed)?;
        let text = text_of(&package.folder, &licence);
        writeln!(list, "{} {} ({licence})", package.name, package.version)?;
        let holders: BTreeSet<&str> = text.lines().map(str::trim).filter(|line| is_holder(line)).collect();
        for holder in holders {
            writeln!(list, "    {holder}")?;
        }
        if !text.is_empty() {
            let body: String = text
                .lines()
                .filter(|line| !is_holder(line.trim()))
                .fold(String::new(), |all, line| all + line + "\n");
            texts.entry(licence).or_insert(body);
        }
    }
    for (licence, text) in texts {
        write!(list, "\n---- {licence} ----\n\n{}\n", text.trim())?;
    }
    Ok(list)
}

fn is_holder(line: &str) -> bool {
    line.starts_with("Copyright ") && line.chars().any(|letter| letter.is_ascii_digit() || letter == ',')
}

fn allowed() -> Result<Vec<String>> {
    let text = fs::read_to_string(shell::root().join("deny.toml"))?;
    let (_, rest) = text.split_once("allow = [").context("deny.toml allows no licence")?;
    let list = rest.split(']').next().unwrap_or_default();
    Ok(list.split('"').skip(1).step_by(2).map(str::to_owned).collect())
}

/// The licence that we take of an expression: the first alternative of which all parts are allowed.
fn chosen(expression: &str, allowed: &[String]) -> Result<String> {
    let expression = expression.replace('/', " OR ").replace(['(', ')'], "");
    // Alternatives inside a conjunction are told apart by their order: "A OR B AND C" needs C whatever is taken.
    let alternatives = expression.split(" OR ").map(str::trim);
    let fits = |alternative: &&str| {
        alternative.split(" AND ").all(|part| allowed.iter().any(|licence| licence == part.trim()))
    };
    let taken = alternatives.clone().filter(fits).min_by_key(|licence| *licence != "MIT");
    taken.map(str::to_owned).context("no alternative of its licence is allowed")
}

/// The text of a licence as the package brings it; empty where it brings none.
fn text_of(folder: &Path, licence: &str) -> String {
    let word = licence.split([' ', '-']).next().unwrap_or_default().to_uppercase();
    let mut files: Vec<PathBuf> =
        fs::read_dir(folder).into_iter().flatten().flatten().map(|entry| entry.path()).collect();
    files.sort();
    let name = |path: &PathBuf| {
        path.file_name().map(|name| name.to_string_lossy().to_uppercase()).unwrap_or_default()
    };
    let is_text = |path: &&PathBuf| {
        let name = name(path);
        (name.starts_with("LICEN") || name.starts_with("COPYING")) && path.is_file()
    };
    let best = files.iter().filter(is_text).min_by_key(|path| !name(path).contains(&word));
    best.and_then(|path| fs::read_to_string(path).ok()).unwrap_or_default()
}

fn metadata() -> Result<Value> {
    let answer = shell::output(shell::cargo().args([
        "metadata",
        "--format-version",
        "1",
        "--filter-platform",
        TARGET,
    ]))?;
    Ok(serde_json::from_str(&answer)?)
}

/// The packages that the app's module is linked from, our own left out.
fn packages() -> Result<Vec<Package>> {
    let metadata = metadata()?;
    let all = metadata["packages"].as_array().context("cargo metadata lists no packages")?;
    let nodes = metadata["resolve"]["nodes"].as_array().context("cargo metadata resolves nothing")?;
    let id_of =
        |name: &str| all.iter().find(|package| package["name"] == name).map(|package| package["id"].clone());
    let mut open = vec![id_of("liftmargin-app").context("the app is no package")?];
    let mut linked: Vec<Value> = Vec::new();
    while let Some(id) = open.pop() {
        if linked.contains(&id) {
            continue;
        }
        let node = nodes.iter().find(|node| node["id"] == id).context("a package is not resolved")?;
        for dependency in node["deps"].as_array().into_iter().flatten() {
            let kinds = dependency["dep_kinds"].as_array().context("a dependency has no kind")?;
            if kinds.iter().any(|kind| kind["kind"].is_null()) {
                open.push(dependency["pkg"].clone());
            }
        }
        linked.push(id);
    }
    let text = |value: &Value| value.as_str().unwrap_or_default().to_owned();
    let mut packages: Vec<Package> = all
        .iter()
        .filter(|package| linked.contains(&package["id"]) && !package["source"].is_null())
        .map(|package| Package {
            name: text(&package["name"]),
            version: text(&package["version"]),
            licence: text(&package["license"]),
            folder: Path::new(&text(&package["manifest_path"]))
                .parent()
                .map(Path::to_owned)
                .unwrap_or_default(),
        })
        .collect();
    packages.sort_by(|a, b| a.name.cmp(&b.name));
    Ok(packages)
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::{REGISTRY, chosen, sources, wildcards};

    #[test]
    fn a_source_that_is_not_the_registry_is_refused() {
        let lock = |rest: &str| {
            format!("version = 4\n[[package]]\nname = \"own\"\n\n[[package]]\nname = \"a\"\n{rest}\n")
        };
        let checked = format!("source = \"{REGISTRY}\"\nchecksum = \"12\"");
        assert!(sources(&lock(&checked)).is_ok());
        for refused in [
            format!("source = \"{REGISTRY}\""),
            "source = \"git+https://host/a\"\nchecksum = \"12\"".to_owned(),
            "source = \"registry+https://host/index\"\nchecksum = \"12\"".to_owned(),
        ] {
            assert!(sources(&lock(&refused)).is_err(), "{refused}");
        }
    }

    #[test]
    fn any_version_is_wanted_of_our_own_packages_alone() {
        let wanting = |path: Option<&str>, req: &str| json!({"name": "own", "source": null, "dependencies": [{"name": "a", "req": req, "path": path}]});
        assert!(wildcards(&[wanting(Some("/own"), "*"), wanting(None, "^1")]).is_ok());
        assert!(wildcards(&[wanting(None, "*")]).is_err());
    }

    #[test]
    fn an_allowed_alternative_is_taken() {
        let allowed = ["MIT".to_owned(), "Apache-2.0".to_owned(), "Unicode-3.0".to_owned()];
        let table = [
            ("MIT OR Apache-2.0", Some("MIT")),
            ("Unlicense/MIT", Some("MIT")),
            ("Apache-2.0", Some("Apache-2.0")),
            ("(MIT OR Apache-2.0) AND Unicode-3.0", Some("MIT")),
            ("GPL-3.0", None),
            ("MIT AND GPL-3.0", None),
        ];
        for (expression, expected) in table {
            assert_eq!(chosen(expression, &allowed).ok().as_deref(), expected, "{expression}");
        }
    }
}
