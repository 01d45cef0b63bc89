//! The course of a planned flight, from the flight that the card computed.

use super::params::{CautiousMarks, CoursePoint, PlannedCourse, WayHome};
use crate::flight::{BriefFlight, Flight, Sample};
use crate::profile::LegKind;
use crate::supply::{Meter, MeterPlace};
use crate::units::{ElectricCharge, Ratio, Time};
use uom::si::electric_charge::coulomb;

/// What is known beside the flight.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CourseDetails {
    /// The meter on board.
    pub meter: Meter,
    /// Motors turning before lift-off.
    pub warm_up: Time,
    /// The card's marks for nine aircraft in ten; none takes the middle ones.
    pub cautious: Option<CautiousMarks>,
    /// The same flight at so many times the power: how the marks move with it.
    pub harder: Option<(Ratio, BriefFlight)>,
}

impl PlannedCourse {
    /// The course of a flight.
    pub fn of(flight: &Flight, details: &CourseDetails) -> Self {
        let marks = &flight.marks;
        let scale = 1.0 + details.meter.scale_error.value;
        let mut points: Vec<CoursePoint> = Vec::with_capacity(flight.samples.len());
        for sample in flight.samples.iter().filter(|sample| !is_homeward(sample.leg)) {
            let used = match details.meter.place {
                MeterPlace::Bus => sample.strings.iter().map(|string| string.used.value).sum(),
                MeterPlace::String(string) => sample.strings.get(string).map_or(0.0, |at| at.used.value),
            };
            let point = CoursePoint {
                time: sample.time - details.warm_up,
                used: ElectricCharge::new::<coulomb>(used * scale),
                voltage: sample.bus_voltage,
            };
            // A change of leg has two samples at one moment: the later leg's load is what goes on.
            if points.last().is_some_and(|last| (point.time - last.time).value < Self::TIME_STEP.min) {
                points.pop();
            }
            points.push(point);
        }
        let land_by_falls = details.harder.map_or_else(ElectricCharge::default, |(power, harder)| {
            let per_one = (marks.land_by - harder.marks.land_by) / (power.value - 1.0);
            if per_one.value.is_finite() {
                per_one.max(ElectricCharge::default())
            } else {
                ElectricCharge::default()
            }
        });
        Self {
            points: from_lift_off(&points),
            way_home: WayHome {
                used: marks.land_by - marks.turn_back,
                time: flight.land_by_at - flight.turn_back_at,
            },
            land_by: marks.land_by,
            cautious: details.cautious.map_or(
                CautiousMarks { land_by: marks.land_by, turn_back: marks.turn_back },
                |card| CautiousMarks {
                    land_by: card.land_by.min(marks.land_by),
                    turn_back: card.turn_back.min(marks.turn_back),
                },
            ),
            land_by_falls,
            capacity: marks.capacity,
            sag_on_set: sag_on_set(flight),
        }
    }
}

fn is_homeward(leg: LegKind) -> bool {
    matches!(leg, LegKind::Return | LegKind::Descent | LegKind::Landing | LegKind::GoAround)
}

/// The warm-up left out, but for what it has used.
fn from_lift_off(points: &[CoursePoint]) -> Vec<CoursePoint> {
    let first = points.iter().rposition(|point| point.time.value <= 0.0).unwrap_or(0);
    points.get(first..).unwrap_or_default().to_vec()
}

/// Between no load and the load on set, when turning back.
fn sag_on_set(flight: &Flight) -> crate::units::ElectricPotential {
    let on_set = |sample: &&Sample| sample.leg == LegKind::OnSet;
    let last = flight.samples.iter().rfind(on_set);
    let resistance = flight.source_at_land_by.resistance;
    last.map_or_else(Default::default, |sample| resistance * sample.bus_current)
}
