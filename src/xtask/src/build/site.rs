//! The files of `dist/`: named by content, referring to each other by those names, listed for the service worker.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::fs;
use std::path::Path;

use anyhow::{Context as _, Result, bail, ensure};
use sha2::{Digest as _, Sha256};

/// One file as it is served.
pub struct Page {
    /// Its path below `dist/`.
    pub path: String,
    /// What it holds.
    pub content: Vec<u8>,
    /// Whether its name changes with its content.
    hashed: bool,
}

/// Everything that is served, in the order of building.
#[derive(Default)]
pub struct Site {
    pages: Vec<Page>,
    names: BTreeMap<String, String>,
}

impl Site {
    /// Adds a file whose name carries a hash of its content, after its references have been rewritten.
    pub fn add_hashed(&mut self, name: &str, content: Vec<u8>, references: &[&str]) -> Result<()> {
        let content = self.rewritten(name, content, references)?;
        let (stem, ending) = name.rsplit_once('.').with_context(|| format!("{name} has no ending"))?;
        let path = format!("{stem}-{}.{ending}", &hex(&content)[..12]);
        self.names.insert(name.to_owned(), path.clone());
        self.pages.push(Page { path, content, hashed: true });
        Ok(())
    }

    /// Adds a file that keeps its name, after its references have been rewritten.
    pub fn add_plain(&mut self, name: &str, content: Vec<u8>, references: &[&str]) -> Result<()> {
        let content = self.rewritten(name, content, references)?;
        self.pages.push(Page { path: name.to_owned(), content, hashed: false });
        Ok(())
    }

    /// Adds `worker.js`, last: its first line lists everything before it, with a version that is the hash of it all.
    pub fn add_worker(&mut self, source: &[u8]) {
        let mut all = Sha256::new();
        for page in &self.pages {
            all.update(page.path.as_bytes());
            all.update(Sha256::digest(&page.content));
        }
        all.update(source);
        let version = hex_of(&all.finalize());
        // The page is kept as the folder: some hosts answer `index.html` with a redirect, which a worker cannot serve.
        let list = |hashed: bool| -> String {
            let pages = self.pages.iter().filter(|page| page.hashed == hashed);
            let paths = pages.map(|page| if page.path == "index.html" { "./" } else { &page.path });
            paths.map(|path| format!("{path:?}")).collect::<Vec<_>>().join(", ")
        };
        let (hashed, plain) = (list(true), list(false));
        let version = &version[..16];
        let mut content =
            format!("const BUILD = {{ version: \"{version}\", hashed: [{hashed}], plain: [{plain}] }};\n")
                .into_bytes();
        content.extend_from_slice(source);
        self.pages.push(Page { path: "worker.js".to_owned(), content, hashed: false });
    }

    /// All files.
    pub fn pages(&self) -> &[Page] {
        &self.pages
    }

    /// Writes all files into an emptied folder.
    pub fn write(&self, folder: &Path) -> Result<()> {
        if folder.exists() {
            fs::remove_dir_all(folder)?;
        }
        for page in &self.pages {
            let path = folder.join(&page.path);
            fs::create_dir_all(path.parent().unwrap_or(folder))?;
            fs::write(&path, &page.content).with_context(|| format!("{}", path.display()))?;
        }
        Ok(())
    }

    /// Puts the final name in place of every reference. One that does not occur is an error: the file would be missed.
    fn rewritten(&self, name: &str, content: Vec<u8>, references: &[&str]) -> Result<Vec<u8>> {
        if references.is_empty() {
            return Ok(content);
        }
        let mut text = String::from_utf8(content).with_context(|| format!("{name} is not text"))?;
        for reference in references {
            let Some(path) = self.names.get(*reference) else {
                bail!("{reference} is not built before {name}")
            };
            ensure!(text.contains(reference), "{name} does not refer to {reference}");
            text = text.replace(reference, path);
        }
        Ok(text.into_bytes())
    }
}

fn hex(content: &[u8]) -> String {
    hex_of(&Sha256::digest(content))
}

fn hex_of(bytes: &[u8]) -> String {
    bytes.iter().fold(String::new(), |mut text, byte| {
        // Writing into a String does not fail.
        let _ = write!(text, "{byte:02x}");
        text
    })
}
