//! A wall clock that jumps, noticed by a second clock that only runs.

use crate::model::Flight;

/// A step of the wall clock beside one of the running clock.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ClockStep {
    /// Both agree, or the wall clock ran on while the phone slept for a moment.
    Steady,
    /// The wall clock was set back by so much: stamps are to be moved with it.
    SetBack {
        /// Seconds.
        by_s: f64,
    },
    /// The wall clock ran ahead by so much: the phone slept (the running clock may stand then), or was set. Stamps stay,
    /// which can only make alarms earlier; the crew is told.
    RanAhead {
        /// Seconds.
        by_s: f64,
    },
}

/// Clocks differ by less than this without anybody having set one, s.
const TREMBLE_S: f64 = 2.0;
/// A phone that sleeps longer than this in a flight is worth a word, s.
const SLEPT_S: f64 = 120.0;

/// What happened between two looks at both clocks, each in milliseconds.
pub fn clock_step(wall_before_ms: f64, run_before_ms: f64, wall_ms: f64, run_ms: f64) -> ClockStep {
    let ahead_s = ((wall_ms - wall_before_ms) - (run_ms - run_before_ms)) / 1000.0;
    if ahead_s < -TREMBLE_S {
        ClockStep::SetBack { by_s: -ahead_s }
    } else if ahead_s > SLEPT_S {
        ClockStep::RanAhead { by_s: ahead_s }
    } else {
        ClockStep::Steady
    }
}

/// By how many seconds, at least, the wall clock was set back while nobody looked: it stands before what was last noted in
/// this flight.
pub fn set_back_unseen(flight: &Flight, now_unix_ms: f64) -> Option<f64> {
    let noted = flight.readings.iter().map(|reading| reading.time_s);
    let aloft = flight.aloft.iter();
    let noted = noted.chain(aloft.flat_map(|aloft| {
        aloft.touched.iter().map(|touched| touched.time_s).chain(aloft.elsewhere_at_s).chain(aloft.down_at_s)
    }));
    let elapsed_s = (now_unix_ms - flight.lift_off_unix_ms) / 1000.0;
    let back_s = noted.fold(0.0, f64::max) - elapsed_s;
    (back_s > TREMBLE_S).then_some(back_s)
}
