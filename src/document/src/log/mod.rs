//! The log: flights as they were flown, what they teach of an airframe's power, and how they are taken in and out.
//!
//! A flight keeps a frozen copy of its setup with all that it refers to; flights of one and the same share it. Each is
//! predicted anew from its own copy (mass, air, wind, packs, plan, and the time it really took), so that the factor on power
//! that explains it holds for the airframe, not for the day.

mod amend;
mod csv_in;
mod entry;
mod freeze;
mod learned;
mod overlay;
mod pack_lesson;
mod predict;
pub mod report;
mod sheet;
mod view;

pub use amend::{was_at_site, was_of_setup};
pub use csv_in::{TableIn, from_csv};
pub use entry::{
    Landing, LiftOff, by_hand, delete, edited, exclude, in_the_air, land, lift_off, of_recording,
    recording_of, set_correction,
};
pub use freeze::{flown_bundle, freeze, resolve_flown};
pub use learned::{AirframeLog, LeftOut, OddFlight, Taught, learn, relearn};
pub use overlay::{Overlaid, overlay, overlay_of};
pub use pack_lesson::{LessonFault, PackLesson, pack_lesson, take_lesson};
pub use predict::{MODEL, Prediction, TimedSetup, band, predict, spread_of_use};
pub use sheet::{as_csv, as_file};
pub use view::{Coverage, LogFilter, LogRow, by_day, coverage, rows};
