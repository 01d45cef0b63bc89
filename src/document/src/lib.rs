//! What is saved and exchanged: the file's schema and its way into core's parameters.

pub mod airborne;
pub mod apart;
pub mod bench_csv;
pub mod card_report;
pub mod check;
pub mod compare;
mod crc32;
pub mod edit;
pub mod error;
pub mod fields;
pub mod ground;
pub mod guide;
pub mod keep;
pub mod keys;
pub mod log;
pub mod record;

pub mod merge;
pub mod metar;
mod migrate;
pub mod model;
pub mod open;
pub mod present;
pub mod probe;
mod quantity;
pub mod resolve;
mod shape;
pub mod share;
pub mod sheet;
mod spreadsheet;
pub mod sweep;
pub mod take_in;
pub mod trace;
pub mod whatif;
pub mod words;
pub mod workspace;

pub use error::DocumentError;
pub use open::{open, open_strict, save};
pub use resolve::resolve;
