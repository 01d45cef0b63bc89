//! What the last flight left in packs that fly on without a swap.
//!
//! Formula   rest voltage: as read; else the model's after what the meter counted; else after the upper end of four flights in
//!           five of that length, e^(1.2816 s) times what the model says
//! Units     V of a cell, mAh by the meter on board
//! Source    `plan::rest_voltage_after`, `log::predict`
//! Valid     a flight whose frozen copy resolves
//! Assumes   nothing was charged or swapped since

use liftmargin_core::units::{ElectricCharge, Time};
use uom::si::electric_charge::milliampere_hour;
use uom::si::electric_potential::volt;
use uom::si::time::second;

use super::plan::rest_voltage_after;
use crate::log::{TimedSetup, resolve_flown};
use crate::model::{Bundle, Flight};

/// One in ten of a normal distribution lies beyond so many deviations.
const ONE_IN_TEN: f64 = 1.2816;

/// What is known of packs that fly on.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct FlownOn {
    /// Of one cell at rest; none where nothing tells it.
    pub rest_cell_voltage_v: Option<f64>,
    /// What the meter shows if it runs on.
    pub meter_mah: Option<f64>,
}

/// What the last flight of an airframe left.
pub fn flown_on(bundle: &Bundle, airframe_id: &str) -> FlownOn {
    let landed =
        bundle.flights.iter().filter(|flight| flight.airframe == airframe_id && flight.aloft.is_none());
    let last = landed.max_by(|one, other| one.lift_off_unix_ms.total_cmp(&other.lift_off_unix_ms));
    last.map_or_else(FlownOn::default, |last| FlownOn {
        rest_cell_voltage_v: last.rest_cell_voltage_v.or_else(|| by_model(bundle, last)),
        meter_mah: last.meter_after_mah.or(last.used_mah),
    })
}

/// Rounded down to a millivolt.
fn by_model(bundle: &Bundle, flight: &Flight) -> Option<f64> {
    let (setup, site) = resolve_flown(bundle, flight, true).ok()?;
    let in_that_time = || {
        let timed = TimedSetup::new(&setup, &site).ok()??;
        let said = timed.used(Time::new::<second>(flight.flight_time_s?)).ok()?;
        Some(said.used? * (ONE_IN_TEN * said.spread).exp())
    };
    let used = flight.used_mah.map(ElectricCharge::new::<milliampere_hour>).or_else(in_that_time)?;
    Some((rest_voltage_after(&setup, used)?.get::<volt>() * 1000.0).floor() / 1000.0)
}
