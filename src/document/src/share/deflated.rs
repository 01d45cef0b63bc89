//! Deflate after a dictionary that both sides have.
//!
//! The dictionary is what the text usually looks like. It is packed first, up to a byte's end, and left out; what follows may
//! refer back to it. To unpack, it is put where the text before would stand.

use miniz_oxide::deflate::core::{
    CompressorOxide, TDEFLFlush, TDEFLStatus, compress, create_comp_flags_from_zip_params,
};
use miniz_oxide::inflate::TINFLStatus;
use miniz_oxide::inflate::core::inflate_flags::TINFL_FLAG_USING_NON_WRAPPING_OUTPUT_BUF;
use miniz_oxide::inflate::core::{DecompressorOxide, decompress};

/// Of links of version 1: never to be changed.
pub(super) const DICTIONARY: &[u8] = include_bytes!("dictionary-1.txt");

const BEST: i32 = 10;
/// Negative: no header of another format around it.
const RAW_WINDOW_BITS: i32 = -15;
const USUAL_STRATEGY: i32 = 0;

pub(super) fn deflate(text: &[u8]) -> Vec<u8> {
    let flags = create_comp_flags_from_zip_params(BEST, RAW_WINDOW_BITS, USUAL_STRATEGY);
    let mut compressor = CompressorOxide::new(flags);
    write(&mut compressor, DICTIONARY, TDEFLFlush::Sync);
    write(&mut compressor, text, TDEFLFlush::Finish)
}

fn write(compressor: &mut CompressorOxide, mut text: &[u8], flush: TDEFLFlush) -> Vec<u8> {
    let mut written = Vec::new();
    let mut piece = [0; 4096];
    loop {
        let (status, read, out) = compress(compressor, text, &mut piece, flush);
        written.extend_from_slice(piece.get(..out).unwrap_or_default());
        text = text.get(read..).unwrap_or_default();
        let is_over = status != TDEFLStatus::Okay || (text.is_empty() && out < piece.len());
        if is_over {
            return written;
        }
    }
}

/// The text again, at most `most` bytes of it; none where it is longer, or damaged.
pub(super) fn inflate(deflated: &[u8], most: usize) -> Option<Vec<u8>> {
    let start = DICTIONARY.len();
    let mut out = DICTIONARY.to_vec();
    out.resize(start + most, 0);
    let mut decompressor = Box::<DecompressorOxide>::default();
    let flags = TINFL_FLAG_USING_NON_WRAPPING_OUTPUT_BUF;
    let (status, read, written) = decompress(&mut decompressor, deflated, &mut out, start, flags);
    if status != TINFLStatus::Done || read != deflated.len() {
        return None;
    }
    out.truncate(start + written);
    Some(out.split_off(start))
}
