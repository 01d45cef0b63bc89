//! `cargo xtask bench`: every figure that has a budget, beside its budget: size, starts and keystrokes in the built page
//! with the processor throttled, then the native benchmarks.

use std::fs;
use std::path::Path;

use anyhow::{Context as _, Result, bail};

use crate::build::{self, Care};
use crate::setup;
use crate::shell::{cargo, output, program, root, step, target};

/// Native benchmarks with a budget: criterion's folder, name, milliseconds.
const NATIVE: [(&str, &str, f64); 4] = [
    ("one card, coaxial eight-rotor, two strings", "whole card, native", 0.2),
    ("cautious figures, 512 samples", "512 samples, native", 20.0),
    ("cards over payload mass, 60 places", "60 places without samples, native", 12.0),
    ("sweep over payload mass, 13 places", "13-place sweep with its samples, native", 250.0),
];

/// `bench [--quick]`: quick measures the build that compiles fast, which is larger and slower.
pub fn command(flags: &[&str]) -> Result<()> {
    let care = match flags {
        [] => Care::Full,
        ["--quick"] => Care::Quick,
        _ => bail!("bench knows only --quick"),
    };
    let chromium = setup::everything()?;
    let (bytes, budget) = build::run(care)?.against_budget();
    let mut rows = vec![row("all precached, gzip", bytes as f64 / 1e3, budget as f64 / 1e3, "kB", "1")];
    let folder = root().join("tests/browser");
    let playwright = ["playwright", "test", "--config=bench.config.ts"];
    let said = output(program("npx").current_dir(folder).env("CHROMIUM", chromium).args(playwright))?;
    print!("{said}");
    rows.extend(
        said.lines().filter_map(|line| line.trim().strip_prefix("budget ")).map(|row| format!("{row} |")),
    );
    step(cargo().args(["bench", "--package", "liftmargin-tests"]))?;
    for (folder, name, budget_ms) in NATIVE {
        rows.push(row(
            name,
            median_ms(&target().join("criterion").join(folder))?,
            budget_ms,
            "ms",
            "criterion",
        ));
    }
    println!(
        "\n| figure (median of the runs) | measured | budget | | runs |\n| --- | --- | --- | --- | --- |"
    );
    for row in rows {
        println!("{row}");
    }
    Ok(())
}

fn row(name: &str, figure: f64, budget: f64, unit: &str, runs: &str) -> String {
    let met = if figure <= budget { "met" } else { "missed" };
    format!("| {name} | {figure:.2} {unit} | {budget} {unit} | {met} | {runs} |")
}

/// What criterion found last, in milliseconds.
fn median_ms(folder: &Path) -> Result<f64> {
    let file = folder.join("new/estimates.json");
    let text = fs::read_to_string(&file).with_context(|| file.display().to_string())?;
    let estimates: serde_json::Value = serde_json::from_str(&text)?;
    let median_ns = estimates["median"]["point_estimate"].as_f64();
    Ok(median_ns.with_context(|| format!("{}: no median", file.display()))? / 1e6)
}
