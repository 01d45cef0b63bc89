//! `cargo xtask icons`: the PNG icons, drawn from `style/icons/mark.svg` by the browser. The results are committed.

use std::collections::HashMap;
use std::fs::{self, File};
use std::io::{BufReader, BufWriter};
use std::path::Path;

use anyhow::{Context as _, Result, ensure};

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
        shrink(&folder.join(name))?;
    }
    Ok(())
}

/// Writes a picture again with a palette: the mark has four colours, and the shades along its edges need no more than
/// six steps a channel. A quarter of the size.
fn shrink(path: &Path) -> Result<()> {
    let mut reader = png::Decoder::new(BufReader::new(File::open(path)?)).read_info()?;
    let mut bytes = vec![0; reader.output_buffer_size().context("too large a picture")?];
    let picture = reader.next_frame(&mut bytes)?;
    let channels = picture.color_type.samples();
    ensure!(channels >= 3, "{} has no colours", path.display());
    let pixels: Vec<[u8; 4]> = bytes
        .chunks_exact(channels)
        .map(|pixel| core::array::from_fn(|channel| pixel.get(channel).copied().unwrap_or(u8::MAX)))
        .collect();
    let mut counts = HashMap::new();
    for pixel in &pixels {
        *counts.entry(*pixel).or_insert(0) += 1;
    }
    let step = |value: u8| (value / 51 + u8::from(value % 51 > 25)) * 51;
    let mut palette: Vec<[u8; 4]> = Vec::new();
    let mut places = Vec::new();
    for pixel in &pixels {
        let own_colour = counts.get(pixel).is_some_and(|count| count * 200 > pixels.len());
        let shade = if own_colour { *pixel } else { pixel.map(step) };
        let place = palette.iter().position(|known| *known == shade).unwrap_or(palette.len());
        if place == palette.len() {
            palette.push(shade);
        }
        places.push(u8::try_from(place).context("more than 256 shades")?);
    }
    let mut encoder = png::Encoder::new(BufWriter::new(File::create(path)?), picture.width, picture.height);
    encoder.set_color(png::ColorType::Indexed);
    encoder.set_depth(png::BitDepth::Eight);
    encoder.set_filter(png::Filter::NoFilter);
    encoder.set_deflate_compression(png::DeflateCompression::Level(9));
    encoder.set_palette(
        palette.iter().flat_map(|[red, green, blue, _]| [*red, *green, *blue]).collect::<Vec<u8>>(),
    );
    encoder.set_trns(palette.iter().map(|[.., opacity]| *opacity).collect::<Vec<u8>>());
    encoder.write_header()?.write_image_data(&places)?;
    Ok(())
}
