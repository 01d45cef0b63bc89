//! A recording laid over the flight that the card has of the same setup.
//!
//! Formula   difference = recorded less predicted, at the recorded moments, the predicted linear between its samples
//! Units     minutes since motor start; V, A of the bus, mAh by the meter on board
//! Source    definition
//! Valid     as long as both go on
//! Assumes   the recording begins at motor start

use liftmargin_core::card::card;
use liftmargin_core::flight::{Flight, Sample};
use liftmargin_core::limits::Thresholds;
use liftmargin_core::supply::Meter;
use uom::si::electric_charge::milliampere_hour;
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::time::minute;

use super::entry::recording_of;
use super::freeze::resolve_flown;
use crate::model::{self, Bundle};
use crate::present::flight_of;
use crate::present::meter_reading;
use crate::record::Record as _;
use crate::trace::TraceRow;

/// One quantity over minutes.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Overlaid {
    /// As recorded.
    pub recorded: Vec<(f64, f64)>,
    /// As the card has it.
    pub predicted: Vec<(f64, f64)>,
    /// Recorded less predicted.
    pub difference: Vec<(f64, f64)>,
}

/// The recording of a flight over what the card of its frozen setup says; without that where there is no such card any more.
pub fn overlay_of(bundle: &Bundle, flight_id: &str) -> Option<[Overlaid; 3]> {
    let recording = recording_of(bundle, flight_id)?;
    let (_, flown) = model::Flight::find(bundle, flight_id)?;
    let ready = resolve_flown(bundle, flown, true).ok();
    let said = ready.as_ref().and_then(|(setup, site)| card(setup, site, &Thresholds::default()).ok());
    let flight = said.as_ref().and_then(flight_of).zip(ready.as_ref());
    Some(overlay(&recording.points.rows(), flight.map(|(flight, (setup, _))| (flight, &setup.supply.meter))))
}

/// Voltage, current, charge used.
pub fn overlay(points: &[TraceRow], flight: Option<(&Flight, &Meter)>) -> [Overlaid; 3] {
    let predicted = |value: &dyn Fn(&Sample, &Meter) -> f64| -> Vec<(f64, f64)> {
        let of = |(flight, meter): (&Flight, &Meter)| {
            let samples = flight.samples.iter();
            samples.map(|sample| (sample.time.get::<minute>(), value(sample, meter))).collect()
        };
        flight.map(of).unwrap_or_default()
    };
    let recorded = |value: fn(&TraceRow) -> f64| -> Vec<(f64, f64)> {
        let all = points.iter().map(|row| (row.time_s / 60.0, value(row)));
        all.filter(|(_, value)| value.is_finite()).collect()
    };
    [
        laid(recorded(|row| row.voltage_v), predicted(&|sample, _| sample.bus_voltage.get::<volt>())),
        laid(recorded(|row| row.current_a), predicted(&|sample, _| sample.bus_current.get::<ampere>())),
        laid(
            recorded(|row| row.used_mah),
            predicted(&|sample, meter| meter_reading(sample, meter).get::<milliampere_hour>()),
        ),
    ]
}

fn laid(recorded: Vec<(f64, f64)>, predicted: Vec<(f64, f64)>) -> Overlaid {
    if recorded.is_empty() {
        return Overlaid::default();
    }
    let difference =
        recorded.iter().filter_map(|(at, value)| Some((*at, value - along(&predicted, *at)?))).collect();
    Overlaid { recorded, predicted, difference }
}

/// Linear between the points; none beyond them.
fn along(points: &[(f64, f64)], at: f64) -> Option<f64> {
    let after = points.partition_point(|(x, _)| *x < at);
    let (high, low) = (points.get(after)?, points.get(after.checked_sub(1).unwrap_or(after))?);
    let share = if high.0 > low.0 { (at - low.0) / (high.0 - low.0) } else { 0.0 };
    (at >= low.0).then_some(low.1 + share * (high.1 - low.1))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn regress_the_difference_is_taken_where_both_are() {
        let recorded = vec![(0.0, 50.0), (1.0, 49.0), (2.0, 47.0), (9.0, 40.0)];
        let got = laid(recorded.clone(), vec![(0.0, 50.0), (4.0, 46.0)]);
        assert_eq!(got.difference, [(0.0, 0.0), (1.0, 0.0), (2.0, -1.0)]);
        assert!(laid(recorded, Vec::new()).difference.is_empty());
        assert_eq!(laid(Vec::new(), vec![(0.0, 1.0)]), Overlaid::default());
    }
}
