//! The size budget: what a first visit loads and keeps, as it goes over the air.

use std::fmt;
use std::io::Write as _;

use anyhow::{Result, ensure};
use flate2::{Compression, write::GzEncoder};

use super::site::{Page, Site};

/// For everything together, gzip, in bytes. The person at the set has one bar of signal, once.
const BUDGET_BYTES: usize = 600_000;

/// The files with their sizes in bytes: raw, gzip.
pub struct Measured(Vec<(String, usize, usize)>);

/// Sizes of all files of the site.
pub fn measure(site: &Site) -> Result<Measured> {
    let sizes = |page: &Page| Ok((page.path.clone(), page.content.len(), gzip_bytes(&page.content)?));
    Ok(Measured(site.pages().iter().map(sizes).collect::<Result<_>>()?))
}

impl Measured {
    fn total(&self) -> (usize, usize) {
        self.0.iter().fold((0, 0), |(raw, gzip), (_, r, g)| (raw + r, gzip + g))
    }

    /// An overrun is an error.
    pub fn within_budget(&self) -> Result<()> {
        let (_, gzip) = self.total();
        ensure!(gzip <= BUDGET_BYTES, "{gzip} bytes gzip are over the budget of {BUDGET_BYTES}");
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

fn gzip_bytes(content: &[u8]) -> Result<usize> {
    let mut encoder = GzEncoder::new(Vec::new(), Compression::best());
    encoder.write_all(content)?;
    Ok(encoder.finish()?.len())
}
