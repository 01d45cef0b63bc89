//! The style sheet: its layers in one file.

use std::fs;

use anyhow::{Result, bail};

use crate::shell;

/// In the order in which a later layer may override an earlier one.
const LAYERS: [&str; 8] = ["tokens", "base", "parts", "drawings", "screens", "workbench", "sheet", "print"];

/// All layers in order. A layer that is not written yet is left out; a file that is no layer is an error.
pub fn layers() -> Result<Vec<u8>> {
    let folder = shell::root().join("style");
    for file in fs::read_dir(&folder)? {
        let path = file?.path();
        let is_sheet = path.extension().is_some_and(|ending| ending == "css");
        let is_layer = path.file_stem().is_some_and(|stem| LAYERS.iter().any(|layer| stem == *layer));
        if is_sheet && !is_layer {
            bail!("{} is none of the layers {LAYERS:?}", path.display());
        }
    }
    let mut sheet = Vec::new();
    for layer in LAYERS {
        let path = folder.join(layer).with_extension("css");
        if path.is_file() {
            sheet.extend(fs::read(path)?);
            sheet.push(b'\n');
        }
    }
    Ok(sheet)
}
