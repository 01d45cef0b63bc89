//! The flight itself: readings of the meter on board weighed against the plan, what is left, and which alarm is due.

mod alarm;
mod course;
pub mod params;
mod projection;
mod reading;
mod state;
mod tracker;

pub use alarm::{Alarm, AlarmKind, Alarms};
pub use course::CourseDetails;
pub use params::{CautiousMarks, CoursePoint, PlannedCourse, TrackingSpreads, WayHome};
pub use projection::{AirborneMarks, Projection};
pub use reading::{MeterReading, ReadingDoubt};
pub use tracker::{Taken, Tracker};
