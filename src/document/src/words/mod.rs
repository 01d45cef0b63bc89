//! All that people read, in one place: names and help, sentences on limits, faults, checks and contingencies.
//!
//! Figures inside a sentence come from `present`, rounded to the safe side.

mod airborne;
pub mod checks;
pub mod contingency;
pub mod counts_with;
mod entry_fault;
pub mod keeping;
pub mod labels;
mod lesson;
mod sentences;
pub mod take_in;
pub mod way_out;
pub mod weather;
pub mod what_if;
pub mod wind;

pub use airborne::{alarm, corrected_by, reading_doubt};
pub use entry_fault::range_words;
pub use labels::{help, label};
pub use lesson::lesson_words;
pub use sentences::{
    evidence, flight_limit, gust_below_wind, land_by, leg_name, lower_first, meter_place, no_flight, outcome,
    refusal, sentence, thrust_limit,
};
