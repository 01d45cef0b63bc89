//! The size budget: what a first visit loads and keeps, as it goes over the air.

use std::fmt;
use std::io::Write as _;

use anyhow::{Context as _, Result, ensure};
use flate2::{Compression, write::GzEncoder};

use super::site::{Page, Site};

/// The page that a visit begins with.
const PAGE: &str = "index.html";
/// For everything together, gzip, in bytes. The person at the set has one bar of signal, once.
const BUDGET_BYTES: usize = 600_000;
/// The build refuses more. Eight rooms weigh three quarters more than the budget, which is told at every build.
const CEILING_BYTES: usize = 1_041_000;
/// For what the first card waits for, as a host sends it that packs nothing: 12 s at 400 kbit/s, less a second for a link that
/// takes 0.4 s to answer and one for the app to start. The build refuses more.
const FIRST_CARD_BYTES: usize = 522_000;
/// What the last build that was committed weighed; `cargo xtask build --keep-size` writes it.
const LAST_TOTAL: &str = include_str!("last_total.txt");
/// More than this beyond the last is told.
const TOLD_SHARE: f64 = 1.05;

/// What all weighs.
pub struct Measured {
    /// The files with their sizes in bytes: raw, gzip.
    files: Vec<(String, usize, usize)>,
    /// What the first card waits for, raw: the page and all that it names.
    first_card: usize,
}

/// Sizes of all files of the site.
pub fn measure(site: &Site) -> Result<Measured> {
    let sizes = |page: &Page| Ok((page.path.clone(), page.content.len(), gzip(&page.content)?.len()));
    let files = site.pages().iter().map(sizes).collect::<Result<_>>()?;
    let page = site.pages().iter().find(|page| page.path == PAGE).context("there is a page")?;
    let text = String::from_utf8_lossy(&page.content);
    let awaited = |page: &&Page| page.path == PAGE || text.contains(&page.path);
    let first_card = site.pages().iter().filter(awaited).map(|page| page.content.len()).sum();
    Ok(Measured { files, first_card })
}

impl Measured {
    fn total(&self) -> (usize, usize) {
        self.files.iter().fold((0, 0), |(raw, gzip), (_, r, g)| (raw + r, gzip + g))
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
        let first = self.first_card;
        ensure!(
            first <= FIRST_CARD_BYTES,
            "the first card waits for {first} bytes, over the ceiling of {FIRST_CARD_BYTES}"
        );
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
        for (path, raw, gzip) in &self.files {
            writeln!(out, "{path:44} {raw:>9} {gzip:>9}")?;
        }
        let (raw, gzip) = self.total();
        writeln!(out, "{:44} {raw:>9} {gzip:>9}  of {BUDGET_BYTES}", "total")?;
        write!(
            out,
            "{:44} {:>9}            of {FIRST_CARD_BYTES}",
            "what the first card waits for", self.first_card
        )
    }
}

/// The content as a gzip file.
pub fn gzip(content: &[u8]) -> Result<Vec<u8>> {
    let mut encoder = GzEncoder::new(Vec::new(), Compression::best());
    encoder.write_all(content)?;
    Ok(encoder.finish()?)
}
