//! The size budget: what a first visit loads and keeps, as it goes over the air.

use std::fmt;
use std::io::Write as _;

use anyhow::{Context as _, Result, ensure};
use flate2::{Compression, write::GzEncoder};

use super::site::{Page, Site};

/// For everything together, gzip, in bytes. The person at the set has one bar of signal, once.
const BUDGET_BYTES: usize = 600_000;
/// The build refuses more. Eight rooms weigh half as much again as the budget, which is told at every build: what is to be
/// won back is in how many types of views are compiled (see DEVELOPERS.md, Size). This may only fall.
const CEILING_BYTES: usize = 930_000;
/// What the last build that was committed weighed; `cargo xtask build --keep-size` writes it.
const LAST_TOTAL: &str = include_str!("last_total.txt");
/// More than this beyond the last is told.
const TOLD_SHARE: f64 = 1.05;

/// The files with their sizes in bytes: raw, gzip.
pub struct Measured(Vec<(String, usize, usize)>);

/// Sizes of all files of the site.
pub fn measure(site: &Site) -> Result<Measured> {
    let sizes = |page: &Page| Ok((page.path.clone(), page.content.len(), gzip(&page.content)?.len()));
    Ok(Measured(site.pages().iter().map(sizes).collect::<Result<_>>()?))
}

impl Measured {
    fn total(&self) -> (usize, usize) {
        self.0.iter().fold((0, 0), |(raw, gzip), (_, r, g)| (raw + r, gzip + g))
    }

    /// What all weighs, gzip, and what it may: bytes.
    pub fn against_budget(&self) -> (usize, usize) {
        (self.total().1, BUDGET_BYTES)
    }

    /// Writes the total where the next build compares itself with it.
    pub fn keep(&self) -> Result<()> {
        let (_, gzip) = self.total();
        Ok(std::fs::write(
            crate::shell::root().join("src/xtask/src/build/last_total.txt"),
            format!("{gzip}\n"),
        )?)
    }

    /// Beyond the budget is told, beyond the ceiling is an error; growth is told.
    pub fn within_ceiling(&self) -> Result<()> {
        let (_, gzip) = self.total();
        ensure!(gzip <= CEILING_BYTES, "{gzip} bytes gzip are over the ceiling of {CEILING_BYTES}");
        if gzip > BUDGET_BYTES {
            println!("warning: the budget is missed: {gzip} bytes gzip of {BUDGET_BYTES}");
        }
        let last: f64 = LAST_TOTAL.trim().parse().context("last_total.txt")?;
        if gzip as f64 > TOLD_SHARE * last {
            println!(
                "warning: {gzip} bytes gzip are {:.0} % more than the last that was kept",
                (gzip as f64 / last - 1.0) * 100.0
            );
        }
        Ok(())
    }
}

impl fmt::Display for Measured {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(out, "{:44} {:>9} {:>9}", "file", "raw", "gzip")?;
        for (path, raw, gzip) in &self.0 {
            writeln!(out, "{path:44} {raw:>9} {gzip:>9}")?;
        }
        let (raw, gzip) = self.total();
        write!(out, "{:44} {raw:>9} {gzip:>9}  of {BUDGET_BYTES}", "total")
    }
}

/// The content as a gzip file.
pub fn gzip(content: &[u8]) -> Result<Vec<u8>> {
    let mut encoder = GzEncoder::new(Vec::new(), Compression::best());
    encoder.write_all(content)?;
    Ok(encoder.finish()?)
}
