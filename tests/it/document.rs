//! The file: opened, refused, saved, merged, edited, laid over.

mod bad_files;
mod drafts;
mod edits;
mod lists;
mod resolve;
mod round_trip;
mod whatif;

use liftmargin_document::model::Bundle;

/// A file of schema 1 with every field used somewhere.
pub const SCHEMA_1: &str = include_str!("../saved/schema-1.json");

/// The same in schema 2, with every field of it used somewhere.
pub const SCHEMA_2: &str = include_str!("../saved/schema-2.json");

/// The first, opened.
pub fn sample() -> Bundle {
    liftmargin_document::open_strict(SCHEMA_1).expect("the saved file of schema 1 opens")
}

/// A bundle as text.
pub fn file_of(bundle: &Bundle) -> String {
    liftmargin_document::save(bundle).expect("it can be saved")
}
