//! The flight in the air, from stamps of the wall clock alone: what was planned, what the readings say, which alarm is due.
//! Nothing runs here: whoever opens the app again sees the flight where it should be.

mod clock;
mod flown_on;
mod gate;
mod in_flight;
mod plan;
pub mod report;
mod shown;

pub use clock::{ClockStep, clock_step, set_back_unseen};
pub use flown_on::{FlownOn, flown_on};
pub use gate::{lift_off_list, set_lift_off_list};
pub use in_flight::{InFlight, Marks, follow, try_reading};
pub use plan::{Home, PlannedFlight, rest_voltage_after, starting_at};
pub use shown::{AirShown, running, shown};
