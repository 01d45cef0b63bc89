//! Between people and core: units by choice, typed numbers in, safely rounded figures and plain words out.
//!
//! Convention: every plain f64 here is SI (kelvin, coulomb, rad/s/V, share of one) unless its name says `shown`,
//! which means the user's unit. Thousands are set apart by a narrow space, never by comma or point, because both
//! are accepted as the decimal mark.

pub mod answer;
pub mod checks;
pub mod contingency;
pub mod draft;
pub mod entry;
pub mod labels;
pub mod number;
pub mod ticks;
pub mod unit;
pub mod units;
pub mod words;

pub use draft::Draft;
pub use entry::{EntryFault, parse, show};
pub use labels::{help, label};
pub use unit::Unit;
pub use units::{Choice, DecimalMark, Units};
