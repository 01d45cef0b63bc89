//! How one record stands in the browser's database: a line that can be checked, then the record's JSON.
//!
//! `lm1 CHECKSUM SCHEMA VERSION POSITION WRITER KIND`, a line feed, the JSON. The checksum (CRC-32 of IEEE 802.3) is
//! taken over the key and everything behind it, so that a cut, a flipped bit or a record under another's key shows.

use core::fmt::Write as _;

use crate::crc32::CRC32;

const MARK: &str = "lm1";

/// One state of one record.
#[derive(Debug, Clone, PartialEq)]
pub struct Envelope {
    /// Schema number that the JSON is written in.
    pub schema: u32,
    /// One more at each write.
    pub version: u64,
    /// Where it stands in its list: the order of these numbers, then of the keys.
    pub position: f64,
    /// The tab that wrote it; two tabs never share one.
    pub writer: String,
    /// The record's JSON; none where it was deleted.
    pub text: Option<String>,
}

/// A stored text that is not what was written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Damaged;

impl Envelope {
    /// As it is stored under `key`.
    pub fn write(&self, key: &str) -> String {
        let kind = if self.text.is_some() { "record" } else { "deleted" };
        let text = self.text.as_deref().unwrap_or_default();
        let Self { schema, version, position, writer, .. } = self;
        let checked = format!("{schema} {version} {position} {writer} {kind}\n{text}");
        let mut stored = String::with_capacity(checked.len() + 16);
        let _ = write!(stored, "{MARK} {:08x} ", checksum(key, &checked));
        stored.push_str(&checked);
        stored
    }

    /// From what is stored under `key`.
    ///
    /// # Errors
    /// `Damaged` for anything that `write` did not make for this key.
    pub fn read(key: &str, stored: &str) -> Result<Self, Damaged> {
        Self::try_read(key, stored).ok_or(Damaged)
    }

    fn try_read(key: &str, stored: &str) -> Option<Self> {
        let (sum, checked) = stored.strip_prefix(MARK)?.strip_prefix(' ')?.split_once(' ')?;
        if sum != format!("{:08x}", checksum(key, checked)) {
            return None;
        }
        let (head, text) = checked.split_once('\n')?;
        let mut words = head.split(' ');
        let envelope = Self {
            schema: words.next()?.parse().ok()?,
            version: words.next()?.parse().ok()?,
            position: words.next()?.parse().ok()?,
            writer: words.next()?.to_owned(),
            text: match words.next()? {
                "record" => Some(text.to_owned()),
                "deleted" => None,
                _ => return None,
            },
        };
        words.next().is_none().then_some(envelope)
    }
}

fn checksum(key: &str, checked: &str) -> u32 {
    let mut sum = CRC32.digest();
    sum.update(key.as_bytes());
    sum.update(b"\n");
    sum.update(checked.as_bytes());
    sum.finalize()
}

/// A short name for a text, the same for the same text.
pub(super) fn name_for(text: &str) -> String {
    format!("{:08x}-{:x}", checksum("", text), text.len())
}
