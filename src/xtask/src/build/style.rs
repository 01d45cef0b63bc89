//! The style sheets: layers in one file for the first card, in another for what follows it.

use std::fs;

use anyhow::{Result, bail};

use crate::shell;

/// In the order in which a later layer may override an earlier one.
pub const FIRST: [&str; 5] = ["tokens", "base", "parts", "pack_bar", "screens"];
/// What no phone's first card needs, over the others.
pub const LATER: [&str; 7] = ["drawings", "entry", "workbench", "rooms", "sheet", "print", "ground"];

/// Some layers in order. A file that is no layer is an error.
pub fn layers(named: &[&str]) -> Result<Vec<u8>> {
    let folder = shell::root().join("style");
    for file in fs::read_dir(&folder)? {
        let path = file?.path();
        let is_sheet = path.extension().is_some_and(|ending| ending == "css");
        let is_layer =
            path.file_stem().is_some_and(|stem| FIRST.iter().chain(&LATER).any(|layer| stem == *layer));
        if is_sheet && !is_layer {
            bail!("{} is none of the layers {FIRST:?} {LATER:?}", path.display());
        }
    }
    let mut sheet = Vec::new();
    for layer in named {
        sheet.extend(fs::read(folder.join(layer).with_extension("css"))?);
        sheet.push(b'\n');
    }
    Ok(sheet)
}
