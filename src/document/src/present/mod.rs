//! What decides what is shown: units by choice, typed numbers in, figures rounded to the safe side out.
//!
//! Convention: every plain f64 here is SI (kelvin, coulomb, rad/s/V, share of one) unless its name says `shown`,
//! which means the user's unit. Thousands are set apart by a narrow space, never by comma or point, because both
//! are accepted as the decimal mark.

pub mod answer;
pub mod before_after;
pub mod by_meter;
pub mod draft;
pub mod drag_flight;
pub mod entry;
pub mod headline;
pub mod meter;
pub mod moment;
pub mod number;
pub mod rotors_left;
pub mod standing;
pub mod ticks;
pub mod two_readings;
mod typed_unit;
pub mod unit;
pub mod units;

pub use before_after::{BeforeAfter, Way};
pub use by_meter::{Cautioned, MeterLine, TurnBackLine, by_meter, turn_back_lines};
pub use draft::Draft;
pub use entry::{EntryFault, parse, show};
pub use headline::{Headline, flight_of};
pub use meter::meter_reading;
pub use rotors_left::{RotorsLeft, rotors_left};
pub use standing::{Reading, Standing};
pub use unit::Unit;
pub use units::{Choice, DecimalMark, Units};
