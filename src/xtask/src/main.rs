//! Developer commands: one file a command. `cargo xtask help` lists them.

mod bench;
mod build;
mod check;
mod endure;
mod icons;
mod licences;
mod pictures;
mod serve;
mod setup;
mod shell;
mod test;
mod verify;

use std::process::ExitCode;

use anyhow::{Result, bail};

const HELP: &str = "\
cargo xtask COMMAND
  setup                             the wasm target, the npm packages, a Chromium: whatever is missing
  build [--quick]                   the release build into dist/, with the size budget (--quick: without wasm-opt)
  serve [--lan] [--port N] [--quick]  set up, build, serve dist/ on this machine (--lan: on the local network)
  check                             formatting, lints, native tests: no browser
  test                              everything: set up, check, build, browser tests
  verify [--readme]                 every check against values from outside, computed anew (--readme: into the README)
  bench [--quick]                   all figures beside their budgets: in the throttled browser, then native
  endure                            the long runs: killed browsers, races of tabs, damaged texts, other engines
  pictures [--as-built]             every screen at five widths, light and dark, into target/pictures; the README's four
  icons                             draw the PNG icons again from their SVG";

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    match dispatch(&words) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("xtask: {error:#}");
            ExitCode::FAILURE
        }
    }
}

fn dispatch(words: &[&str]) -> Result<()> {
    match words {
        ["setup"] => setup::everything().map(drop),
        ["build", flags @ ..] => build::command(flags),
        ["serve", flags @ ..] => serve::command(flags),
        ["check"] => check::command(),
        ["test", patterns @ ..] => test::command(patterns),
        ["bench", flags @ ..] => bench::command(flags),
        ["endure", patterns @ ..] => endure::command(patterns),
        ["pictures", flags @ ..] => pictures::command(flags),
        ["verify", flags @ ..] => verify::command(flags),
        ["icons"] => icons::command(),
        [] | ["help" | "--help" | "-h"] => {
            println!("{HELP}");
            Ok(())
        }
        _ => bail!("unknown command: {}\n{HELP}", words.join(" ")),
    }
}
