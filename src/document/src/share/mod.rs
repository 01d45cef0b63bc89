//! A setup as a link: everything it needs, packed into letters that a link's fragment and a QR code carry.
//!
//! Format    `#/take/` 1 LETTERS. `1` is the version. LETTERS are base32 (RFC 4648, no padding; case does not matter): a QR code
//!           packs them tighter than base64, and no messenger takes one for punctuation or emphasis. Their bytes are the CRC-32 of
//!           the text (4, big-endian), then raw deflate (RFC 1951) after the dictionary `dictionary-1.txt`. The text is the
//!           closed bundle's JSON as `packed.rs` writes it: `[shape, values]`
//! Kept      a version's dictionary never changes; tests/saved holds a link of each version. The JSON carries its own schema
//!           number, so that a link of an earlier schema opens as a file of it does
//! Limits    100,000 letters, 64 KiB of text: a setup has some 3 KiB. Longer ones are refused, before anything of them is made

mod deflated;
mod fault;
mod packed;
pub mod qr;

pub use fault::ShareFault;

use data_encoding::BASE32_NOPAD;

use crate::crc32::CRC32;
use crate::model::Bundle;
use crate::open::{self, Opened};
use crate::record::closed;

/// Where a link goes.
pub const ROUTE: &str = "#/take/";
const VERSION: char = '1';
const MOST_LETTERS: usize = 100_000;
pub(crate) const MOST_BYTES: usize = 64 * 1024;

/// The fragment of the link that holds a setup and what it needs: `#/take/1…`.
///
/// # Errors
/// `Document` for an unknown setup or a number that no file can hold, `TooLarge`.
pub fn fragment(bundle: &Bundle, setup_id: &str) -> Result<String, ShareFault> {
    Ok(format!("{ROUTE}{}", letters(&closed(bundle, setup_id)?)?))
}

/// Version and letters of a closed bundle.
fn letters(closed: &Bundle) -> Result<String, ShareFault> {
    let text = packed::pack(&open::to_value(closed)?);
    if text.len() > MOST_BYTES {
        return Err(ShareFault::TooLarge { bytes: text.len(), most: MOST_BYTES });
    }
    let mut bytes = CRC32.checksum(text.as_bytes()).to_be_bytes().to_vec();
    bytes.extend(deflated::deflate(text.as_bytes()));
    Ok(format!("{VERSION}{}", BASE32_NOPAD.encode(&bytes)))
}

/// What a link holds: from the whole link, its fragment, or the letters alone.
///
/// # Errors
/// Why it is refused.
pub fn read(link: &str) -> Result<Opened, ShareFault> {
    let link = link.trim();
    let letters = link.rsplit_once(ROUTE).map_or(link, |(_, letters)| letters);
    if letters.len() > MOST_LETTERS {
        return Err(ShareFault::TooLong { letters: letters.len(), most: MOST_LETTERS });
    }
    let mut rest = letters.chars();
    match rest.next() {
        Some(VERSION) => {}
        Some(other) if other.is_ascii_digit() => return Err(ShareFault::OtherVersion { found: other }),
        _ => return Err(ShareFault::NoLink),
    }
    let letters = rest.as_str().to_ascii_uppercase();
    let bytes = BASE32_NOPAD.decode(letters.as_bytes()).map_err(|_| ShareFault::Damaged)?;
    let (check, deflated) = bytes.split_first_chunk::<4>().ok_or(ShareFault::Damaged)?;
    let text = deflated::inflate(deflated, MOST_BYTES).ok_or(ShareFault::Damaged)?;
    if CRC32.checksum(&text) != u32::from_be_bytes(*check) {
        return Err(ShareFault::Damaged);
    }
    let value = packed::unpack(&text).ok_or(ShareFault::Damaged)?;
    Ok(open::open_value(value)?)
}
