//! The checksum of what is stored and of what goes into a link: CRC-32 of IEEE 802.3. By a table of a kilobyte: nothing here
//! is long, and the table is fetched before the first card.

use crc::{CRC_32_ISO_HDLC, Crc};

/// Checks a text.
pub static CRC32: Crc<u32> = Crc::<u32>::new(&CRC_32_ISO_HDLC);
