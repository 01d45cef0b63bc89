//! A link as a QR code.
//!
//! Source    ISO/IEC 18004 (by the encoder), error correction M. The link up to its letters goes in bytes, the letters in the
//!           code's own mode for capitals and digits, which takes 5.5 bits each
//! Valid     up to version 25 (117 modules a side): with the quiet zone 125 modules on a screen 62 mm wide are 0.5 mm each,
//!           two to three dots of a phone's picture from 30 cm. Reckoned, not measured with phones

use core::fmt::Write as _;

use qrcodegen::{QrCode, QrCodeEcc, QrSegment, Version};

use super::ROUTE;

const GREATEST_VERSION: u8 = 25;
/// Of the standard: light modules around the code.
const QUIET: i32 = 4;

/// A code ready to be drawn.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Qr {
    /// Modules a side, with the light ones around.
    pub side: i32,
    /// The dark modules as the path of a drawing with one unit a module.
    pub path: String,
}

/// Too much for one code that a phone reads.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TooDense {
    /// Letters of the link.
    pub letters: usize,
}

impl core::fmt::Display for TooDense {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        write!(
            f,
            "With {} letters this setup is too much for a code that a phone reads from a screen: share the file or the link.",
            self.letters
        )
    }
}

/// The code of a whole link.
///
/// # Errors
/// `TooDense` where another phone's camera could hardly read it.
pub fn qr(link: &str) -> Result<Qr, TooDense> {
    let (before, letters) = link.rsplit_once(ROUTE).map_or((link, ""), |(page, letters)| {
        (link.get(..page.len() + ROUTE.len()).unwrap_or(link), letters)
    });
    let mut parts = vec![QrSegment::make_bytes(before.as_bytes())];
    if QrSegment::is_alphanumeric(letters) {
        parts.push(QrSegment::make_alphanumeric(letters));
    } else {
        parts.push(QrSegment::make_bytes(letters.as_bytes()));
    }
    let made = QrCode::encode_segments_advanced(
        &parts,
        QrCodeEcc::Medium,
        Version::MIN,
        Version::new(GREATEST_VERSION),
        None,
        true,
    );
    made.map(|code| drawn(&code)).map_err(|_| TooDense { letters: link.len() })
}

fn drawn(code: &QrCode) -> Qr {
    let size = code.size();
    let mut path = String::new();
    for y in 0..size {
        let mut x = 0;
        while x < size {
            let end = (x..size).find(|&along| !code.get_module(along, y)).unwrap_or(size);
            let run = end - x;
            if run > 0 {
                // Only memory could fail here.
                let _ = write!(path, "M{} {}h{run}v1h-{run}z", x + QUIET, y + QUIET);
            }
            x += run.max(1);
        }
    }
    Qr { side: size + 2 * QUIET, path }
}
