//! Prints the producer's table of a file as JSON: `cargo run -q -p liftmargin-document --example sheet -- FILE.json [SITE …]`.
//!
//! Every setup at its own site, or at each of the sites named by their ids. A file that is refused: exit code 1 and one JSON
//! object with `field`, `value`, `allowed`, `message`; a setup that is not finished is a row that says what is missing.

#[path = "shared/command.rs"]
#[allow(dead_code, reason = "each example uses a part of it")]
mod command;

use std::process::ExitCode;

use liftmargin_document::present::Units;
use liftmargin_document::resolve::LearnedAirframes;
use liftmargin_document::sheet::{Row, RowReport, SheetInputs, places};
use liftmargin_document::{DocumentError, open};

fn main() -> ExitCode {
    command::run(rows)
}

fn rows(arguments: &[String]) -> Result<Vec<RowReport>, DocumentError> {
    let [path, sites @ ..] = arguments else {
        return Err(DocumentError::Missing {
            path: "FILE".to_owned(),
            allowed: "a path of a file".to_owned(),
        });
    };
    let mut bundle = open(&command::text_of(path)?)?.bundle;
    let setups: Vec<String> = bundle.setups.iter().map(|setup| setup.id.clone()).collect();
    let mut learned = LearnedAirframes::default();
    let made = places(&bundle, &setups, sites).into_iter().map(|(setup, site)| {
        let mut row = Row::new(&bundle, &setup, &site);
        let inputs = SheetInputs::new(&mut bundle, &setup, &site, |airframe| learned.get(airframe));
        if let Err(fault) = inputs.and_then(|inputs| row.work_out(&inputs, Units::default())) {
            row.refuse(&fault);
        }
        RowReport::from(&row)
    });
    Ok(made.collect())
}
