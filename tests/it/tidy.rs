//! The house rules that a machine can see.

use std::fs;
use std::path::{Path, PathBuf};

/// The workspace's root.
fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

/// All Rust files below `folder` with their text, without what was built or installed.
fn sources(folder: &str) -> Vec<(PathBuf, String)> {
    let mut found = Vec::new();
    let mut folders = vec![root().join(folder)];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                if !path.ends_with("node_modules") && !path.ends_with("target") {
                    folders.push(path);
                }
            } else if path.extension().is_some_and(|ending| ending == "rs") {
                let text = fs::read_to_string(&path).unwrap();
                found.push((path, text));
            }
        }
    }
    assert!(!found.is_empty(), "no sources below {folder}");
    found
}

/// Every source for which `broken` gives a reason, in one message.
fn check(sources: &[(PathBuf, String)], broken: impl Fn(&str) -> Option<String>) {
    let told =
        sources.iter().filter_map(|(path, text)| Some(format!("{}: {}", path.display(), broken(text)?)));
    let told: Vec<String> = told.collect();
    assert!(told.is_empty(), "\n{}", told.join("\n"));
}

fn all_sources() -> Vec<(PathBuf, String)> {
    [sources("src"), sources("tests")].concat()
}

#[test]
fn files_are_short() {
    check(&all_sources(), |text| {
        let lines = text.lines().count();
        (lines > 400).then(|| format!("{lines} lines, at most 400"))
    });
}

#[test]
fn modules_say_what_they_are() {
    check(&all_sources(), |text| (!text.starts_with("//! ")).then(|| "opens without a module doc".into()));
}

#[test]
fn nothing_is_left_for_later() {
    // In halves, so that this file does not name them itself.
    let marks =
        [concat!("TO", "DO"), concat!("FIX", "ME"), concat!("todo", "!("), concat!("unimplemented", "!(")];
    check(&all_sources(), |text| {
        marks.iter().find(|mark| text.contains(*mark)).map(|mark| format!("holds {mark}"))
    });
}

#[test]
fn core_is_pure() {
    let foreign = [
        "serde",
        "web_sys",
        "js_sys",
        "leptos",
        "std::time",
        "std::fs",
        "std::env",
        "std::net",
        "std::process",
    ];
    check(&sources("src/core"), |text| {
        let code = text.lines().filter(|line| !line.trim_start().starts_with("//"));
        let code = code.collect::<Vec<_>>().join("\n");
        foreign.iter().find(|name| code.contains(*name)).map(|name| format!("core must not know {name}"))
    });
    let manifest = fs::read_to_string(root().join("src/core/Cargo.toml")).unwrap();
    let dependencies = manifest.split("[dependencies]").nth(1).unwrap().split("\n[").next().unwrap();
    for name in ["serde", "web-sys", "js-sys", "leptos", "liftmargin"] {
        assert!(!dependencies.contains(name), "core must not depend on {name}");
    }
}

#[test]
fn screens_know_no_browser_interface() {
    let screens = root().join("src/app/src/screens");
    if screens.is_dir() {
        check(&sources("src/app/src/screens"), |text| {
            text.contains("web_sys").then(|| "a screen goes through the doors".into())
        });
    }
}

#[test]
fn references_name_their_source() {
    for entry in fs::read_dir(root().join("tests/references")).unwrap() {
        let folder = entry.unwrap().path();
        if folder.is_dir() {
            let source = fs::read_to_string(folder.join("SOURCE.md"));
            assert!(
                source.is_ok_and(|text| !text.trim().is_empty()),
                "{} has no SOURCE.md",
                folder.display()
            );
        }
    }
}

/// Every `crate::name` in code (not in comments) of one text.
fn knows(text: &str) -> Vec<String> {
    let code = text.lines().filter(|line| !line.trim_start().starts_with("//"));
    let code = code.collect::<Vec<_>>().join("\n");
    let named = code.split("crate::").skip(1).map(|after| {
        after.chars().take_while(|letter| letter.is_alphanumeric() || *letter == '_').collect::<String>()
    });
    named.filter(|name| !name.is_empty()).collect()
}

#[test]
fn a_station_knows_only_those_before_it() {
    let core = root().join("src/core/src");
    let lib = fs::read_to_string(core.join("lib.rs")).unwrap();
    let named = |mark: &str| -> Vec<String> {
        let line = lib.lines().find_map(|line| line.strip_prefix("//! ")?.strip_prefix(mark)).expect(mark);
        line.trim_end_matches('.').split(['→', ',']).map(|name| name.trim().to_owned()).collect()
    };
    let (ground, stations) = (named("Ground: "), named("Stations: "));
    let declared = lib.lines().filter_map(|line| line.strip_prefix("pub mod ")?.strip_suffix(';'));
    for module in declared {
        let is_placed = ground.iter().chain(&stations).any(|name| name == module);
        assert!(is_placed, "lib.rs gives {module} no place in the order");
    }
    let allowed = |of: &str| -> Vec<String> {
        let before = stations.iter().position(|name| name == of).map_or(&[][..], |at| &stations[..=at]);
        ground.iter().chain(before).cloned().collect()
    };
    for (path, text) in sources("src/core/src") {
        let inside = path.strip_prefix(&core).unwrap();
        let own = inside
            .components()
            .next()
            .unwrap()
            .as_os_str()
            .to_str()
            .unwrap()
            .trim_end_matches(".rs")
            .to_owned();
        if own == "lib" {
            continue;
        }
        let allowed = allowed(&own);
        for name in knows(&text) {
            assert!(allowed.contains(&name), "{}: {own} must not know {name}", inside.display());
        }
    }
}

/// Modules and types by name, each with where it stands.
fn names(folder: &str) -> Vec<(String, String)> {
    let mut found = Vec::new();
    for (path, text) in sources(folder) {
        let file = path.file_stem().unwrap().to_str().unwrap().to_owned();
        let module = if file == "mod" {
            path.parent().and_then(Path::file_name).unwrap().to_str().unwrap().to_owned()
        } else {
            file
        };
        // By the house's convention each station's `params.rs` holds what is known of it.
        if !["params", "lib", "main"].contains(&module.as_str()) {
            found.push((format!("module {module}"), path.display().to_string()));
        }
        for line in text.lines() {
            let line = line
                .strip_prefix("pub ")
                .or_else(|| line.split_once(") ").map(|(_, rest)| rest))
                .unwrap_or(line);
            let kind =
                ["struct ", "enum ", "trait ", "type "].iter().find_map(|kind| line.strip_prefix(kind));
            if let Some(after) = kind {
                let name: String = after.chars().take_while(|letter| letter.is_alphanumeric()).collect();
                found.push((format!("type {name}"), path.display().to_string()));
            }
        }
    }
    found
}

#[test]
fn no_two_modules_or_types_of_a_crate_share_a_name() {
    for folder in ["src/core/src"] {
        let mut named = names(folder);
        named.sort();
        for pair in named.windows(2) {
            assert_ne!(pair[0].0, pair[1].0, "{} and {}", pair[0].1, pair[1].1);
        }
    }
}
