//! `cargo xtask icons`: the PNG icons, drawn from `style/icons/mark.svg` by the browser. The results are committed.

use std::fs;

use anyhow::Result;

use crate::setup;
use crate::shell::{root, run, target};

/// File, side in pixels, and the share of the side that the mark takes: a maskable icon is cut to a circle of 80 %
/// (W3C, Web Application Manifest, "Icon masks and safe zone").
const ICONS: [(&str, u32, u32); 4] = [
    ("icon-192.png", 192, 100),
    ("icon-512.png", 512, 100),
    ("maskable-512.png", 512, 72),
    ("apple-touch-180.png", 180, 86),
];
/// The ground of the mark, for the parts of an icon that the mark leaves free.
const GROUND: &str = "#10262e";

/// `icons`
pub fn command() -> Result<()> {
    let chromium = setup::everything()?;
    let folder = root().join("style/icons");
    let scratch = target().join("icons");
    fs::create_dir_all(&scratch)?;
    let mark = fs::read_to_string(folder.join("mark.svg"))?;
    for (name, side, share) in ICONS {
        let ground = if share == 100 { "transparent" } else { GROUND };
        let page = scratch.join(name).with_extension("html");
        let style = format!(
            "body{{margin:0;width:{side}px;height:{side}px;background:{ground};display:grid;place-items:center}}\
             svg{{width:{share}%;height:{share}%}}"
        );
        fs::write(&page, format!("<!doctype html><style>{style}</style>{mark}"))?;
        let mut browser = crate::shell::program(&chromium);
        browser.args(["--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars", "--no-first-run"]);
        browser.args(["--disable-background-networking", "--default-background-color=00000000"]);
        browser.arg(format!("--user-data-dir={}", scratch.join("profile").display()));
        browser.arg(format!("--window-size={side},{side}"));
        browser.arg(format!("--screenshot={}", folder.join(name).display()));
        run(browser.arg(format!("file://{}", page.display())))?;
    }
    Ok(())
}
