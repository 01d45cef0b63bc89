//! The files of `dist/`: named by content, referring to each other by those names, listed for the service worker.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::fs;
use std::path::Path;

use anyhow::{Context as _, Result, bail, ensure};
use sha2::{Digest as _, Sha256};

/// Stands in the page's source where the version goes.
const NO_VERSION: &str = "0000000000000000";
const VERSION_META: &str = "name=\"version\" content=\"";

/// One file as it is served.
pub struct Page {
    /// Its path below `dist/`.
    pub path: String,
    /// What it holds.
    pub content: Vec<u8>,
}

/// Everything that is served, in the order of building.
#[derive(Default)]
pub struct Site {
    pages: Vec<Page>,
    for_host: Vec<Page>,
    names: BTreeMap<String, String>,
}

impl Site {
    /// Adds a file whose name carries a hash of its content, after its references have been rewritten.
    pub fn add_hashed(&mut self, name: &str, content: Vec<u8>, references: &[&str]) -> Result<()> {
        let content = self.rewritten(name, content, references)?;
        let (stem, ending) = name.rsplit_once('.').with_context(|| format!("{name} has no ending"))?;
        let path = format!("{stem}-{}.{ending}", &hex(&content)[..12]);
        self.names.insert(name.to_owned(), path.clone());
        self.pages.push(Page { path, content });
        Ok(())
    }

    /// Adds a file that keeps its name, after its references have been rewritten.
    pub fn add_plain(&mut self, name: &str, content: Vec<u8>, references: &[&str]) -> Result<()> {
        let content = self.rewritten(name, content, references)?;
        self.pages.push(Page { path: name.to_owned(), content });
        Ok(())
    }

    /// Adds the page, which carries the version of all that came before it, and the checksums of what it loads first.
    pub fn add_page(
        &mut self,
        name: &str,
        source: Vec<u8>,
        references: &[&str],
        checked: &[&str],
    ) -> Result<()> {
        let text = String::from_utf8(source).with_context(|| format!("{name} is not text"))?;
        ensure!(text.contains(NO_VERSION), "{name} has no place for the version");
        let text = text.replace(NO_VERSION, &self.version(text.as_bytes()));
        let mut content = String::from_utf8(self.rewritten(name, text.into_bytes(), references)?)?;
        for reference in checked {
            let path = self.names.get(*reference).with_context(|| format!("{reference} is not built"))?;
            let page = self.pages.iter().find(|page| page.path == *path).context("a named page is kept")?;
            let sum = base64(&Sha256::digest(&page.content));
            content =
                content.replace(&format!("\"{path}\""), &format!("\"{path}\" integrity=\"sha256-{sum}\""));
        }
        self.pages.push(Page { path: name.to_owned(), content: content.into_bytes() });
        Ok(())
    }

    /// Sixteen hexadecimal digits of all files so far and one more.
    fn version(&self, more: &[u8]) -> String {
        let mut all = Sha256::new();
        for page in &self.pages {
            all.update(page.path.as_bytes());
            all.update(Sha256::digest(&page.content));
        }
        all.update(more);
        hex_of(&all.finalize())[..16].to_owned()
    }

    /// Adds `worker.js`, last: its first line lists everything before it with its checksum.
    pub fn add_worker(&mut self, source: &[u8]) -> Result<()> {
        let page =
            self.pages.iter().find(|page| page.path == "index.html").context("the page comes before")?;
        let text = std::str::from_utf8(&page.content)?;
        let (_, rest) = text.split_once(VERSION_META).context("the page has no version")?;
        let version = rest.get(..16).context("the page's version is short")?;
        // The page is kept as the folder: some hosts answer `index.html` with a redirect, which a worker cannot serve.
        let kept = |path: &str| if path == "index.html" { "./".to_owned() } else { path.to_owned() };
        let entry = |page: &Page| format!("{:?}: \"{}\"", kept(&page.path), hex(&page.content));
        let files: Vec<String> = self.pages.iter().map(entry).collect();
        let mut content =
            format!("const BUILD = {{ version: \"{version}\", files: {{ {} }} }};\n", files.join(", "))
                .into_bytes();
        content.extend_from_slice(source);
        self.pages.push(Page { path: "worker.js".to_owned(), content });
        Ok(())
    }

    /// Adds a file for the host alone, which no browser keeps.
    pub fn add_for_host(&mut self, name: &str, content: Vec<u8>) {
        self.for_host.push(Page { path: name.to_owned(), content });
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
        for page in self.pages.iter().chain(&self.for_host) {
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

/// RFC 4648, section 4.
fn base64(bytes: &[u8]) -> String {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut text = String::new();
    for three in bytes.chunks(3) {
        let at = |place: usize| u32::from(three.get(place).copied().unwrap_or_default());
        let bits = at(0) << 16 | at(1) << 8 | at(2);
        for place in 0..4 {
            let letter = LETTERS[(bits >> (18 - 6 * place)) as usize & 63];
            text.push(if place <= three.len() { letter as char } else { '=' });
        }
    }
    text
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
