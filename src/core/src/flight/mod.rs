//! The flight: the legs' power drawn from the supply at constant power, with sag in the loop.

pub mod params;

pub use params::{Flight, FlightLimit, MeterMarks, NoFlight, ReservePolicy, Sample, StringSample};
