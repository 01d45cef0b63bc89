//! Prints the bundle that a link holds, as the file it would be: `cargo run -q -p liftmargin-document --example open -- FRAGMENT`.
//!
//! Takes the whole link, its fragment or the letters alone. One that is refused: exit code 1 and the reason in words on the
//! error stream.

use std::process::ExitCode;

use liftmargin_document::{save, share};

fn main() -> ExitCode {
    let link = std::env::args().skip(1).collect::<Vec<_>>().join(" ");
    let opened = share::read(&link).map_err(|fault| fault.to_string());
    let text = opened.and_then(|opened| {
        for broken in &opened.broken {
            eprintln!("{}: {}", broken.name, broken.words);
        }
        save(&opened.bundle).map_err(|error| error.to_string())
    });
    match text {
        Ok(text) => {
            print!("{text}");
            ExitCode::SUCCESS
        }
        Err(words) => {
            eprintln!("{words}");
            ExitCode::FAILURE
        }
    }
}
