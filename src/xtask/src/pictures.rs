//! `cargo xtask pictures`: every screen at five widths, light and dark, to be looked at, and the README's own.

use std::fs;

use anyhow::{Context as _, Result, bail};

use crate::build::{self, Care};
use crate::setup;
use crate::shell::{program, root, step, target};

/// `pictures [--as-built]`: of a quick build, or of the `dist/` that stands.
pub fn command(flags: &[&str]) -> Result<()> {
    let chromium = setup::everything()?;
    match flags {
        [] => drop(build::run(Care::Quick)?),
        ["--as-built"] => {}
        _ => bail!("pictures knows only --as-built"),
    }
    let pictures = target().join("pictures");
    let playwright = ["playwright", "test", "--config=pictures.config.ts"];
    step(
        program("npx")
            .current_dir(root().join("tests/browser"))
            .env("CHROMIUM", chromium)
            .env("PICTURES", &pictures)
            .args(playwright),
    )?;
    let kept = root().join("docs/pictures");
    fs::create_dir_all(&kept)?;
    let chosen = pictures.join("readme");
    for picture in fs::read_dir(&chosen).with_context(|| chosen.display().to_string())? {
        let picture = picture?;
        fs::copy(picture.path(), kept.join(picture.file_name()))?;
    }
    println!("pictures of all screens: {}\nthose of the README: {}", pictures.display(), kept.display());
    Ok(())
}
