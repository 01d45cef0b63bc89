//! Writes the demo scenario: `cargo run -q -p liftmargin-document --example demo -- demo-data`.
//!
//! The bundle as the app exports it, each bench table also as CSV, and the cards the core gives today. All of it is
//! invented; the bench tables follow from the coefficients in `stand.rs`.

mod aircraft;
mod payload;
mod setups;
mod stand;

use std::path::Path;
use std::process::ExitCode;

use liftmargin_document::card_report::report;
use liftmargin_document::model::Bundle;
use liftmargin_document::save;

fn main() -> ExitCode {
    let folder = std::env::args().nth(1).unwrap_or_else(|| "demo-data".to_owned());
    match write(Path::new(&folder)) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}

fn write(folder: &Path) -> Result<(), Box<dyn std::error::Error>> {
    let bundle = scenario();
    std::fs::write(folder.join("mountain-road.json"), save(&bundle)?)?;
    for airframe in &bundle.airframes {
        if let Some(bench) = &airframe.propulsion.bench {
            std::fs::write(folder.join(format!("bench-{}.csv", airframe.id)), stand::csv(bench))?;
        }
    }
    let cards = report(&bundle)?;
    let text = serde_json::to_string_pretty(&cards)?;
    std::fs::write(folder.join("mountain-road.expected.json"), text + "\n")?;
    Ok(())
}

fn scenario() -> Bundle {
    Bundle {
        airframes: aircraft::airframes(),
        pack_types: aircraft::pack_types(),
        items: payload::items(),
        sites: setups::sites(),
        setups: setups::setups(),
        ..Bundle::new()
    }
}
