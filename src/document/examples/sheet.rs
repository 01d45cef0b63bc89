//! Prints the producer's table of a file as JSON: `cargo run -q -p liftmargin-document --example sheet -- FILE.json [SITE …]`.
//!
//! Every setup at its own site, or at each of the sites named by their ids. A file that is refused: exit code 1 and one JSON
//! object with `field`, `value`, `allowed`, `message`; a setup that is not finished is a row that says what is missing.

use std::collections::HashMap;
use std::process::ExitCode;

use liftmargin_document::card_report::ErrorReport;
use liftmargin_document::present::Units;
use liftmargin_document::resolve::resolve_airframe;
use liftmargin_document::sheet::{Row, RowReport, SheetInputs, places};
use liftmargin_document::{DocumentError, open};

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let (text, code) = match rows(&arguments) {
        Ok(rows) => (serde_json::to_string_pretty(&rows), ExitCode::SUCCESS),
        Err(error) => (serde_json::to_string_pretty(&ErrorReport::from(&error)), ExitCode::FAILURE),
    };
    println!("{}", text.unwrap_or_default());
    code
}

fn rows(arguments: &[String]) -> Result<Vec<RowReport>, DocumentError> {
    let [path, sites @ ..] = arguments else {
        return Err(DocumentError::Missing {
            path: "FILE".to_owned(),
            allowed: "a path of a file".to_owned(),
        });
    };
    let text = std::fs::read_to_string(path).map_err(|error| DocumentError::WrongShape {
        path: "FILE".to_owned(),
        value: path.clone(),
        allowed: format!("a text file that can be read ({error})"),
    })?;
    let bundle = open(&text)?.bundle;
    let setups: Vec<String> = bundle.setups.iter().map(|setup| setup.id.clone()).collect();
    let mut learned = HashMap::new();
    let made = places(&bundle, &setups, sites).into_iter().map(|(setup, site)| {
        let mut row = Row::new(&bundle, &setup, &site);
        let inputs = SheetInputs::new(&bundle, &setup, &site, |airframe| {
            let known = learned.entry(airframe.id.clone()).or_insert_with(|| resolve_airframe(airframe));
            known.clone().map(|known| known.airframe)
        });
        if let Err(fault) = inputs.and_then(|inputs| row.work_out(&inputs, Units::default())) {
            row.refuse(&fault);
        }
        RowReport::from(&row)
    });
    Ok(made.collect())
}
