//! Prints the fragment of the link that holds one setup: `cargo run -q -p liftmargin-document --example share -- FILE.json SETUP`.
//!
//! A file or setup that is refused: exit code 1 and the reason in words on the error stream, which also says how long the
//! link is and, where it is, that no phone would read it as a code.

use std::process::ExitCode;

use liftmargin_document::open;
use liftmargin_document::share::{fragment, qr::qr};

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    match link(&arguments) {
        Ok(fragment) => {
            println!("{fragment}");
            eprintln!("{} letters", fragment.len());
            if let Err(too_dense) = qr(&fragment) {
                eprintln!("{too_dense}");
            }
            ExitCode::SUCCESS
        }
        Err(words) => {
            eprintln!("{words}");
            ExitCode::FAILURE
        }
    }
}

fn link(arguments: &[String]) -> Result<String, String> {
    let [path, setup] = arguments else {
        return Err("Give the path of a file and the id of a setup.".to_owned());
    };
    let text = std::fs::read_to_string(path).map_err(|error| format!("{path}: {error}"))?;
    let opened = open(&text).map_err(|error| error.to_string())?;
    fragment(&opened.bundle, setup).map_err(|fault| fault.to_string())
}
