//! Where a flight stands, from its entry and the time now.

use liftmargin_core::airborne::{
    AirborneMarks, AlarmKind, Alarms, MeterReading, ReadingDoubt, Taken, Tracker,
};
use liftmargin_core::input_error::InputError;
use liftmargin_core::units::{ElectricCharge, ElectricPotential, Time};
use serde::Serialize;
use uom::si::electric_charge::milliampere_hour;
use uom::si::electric_potential::volt;
use uom::si::time::second;

use super::plan::{Home, PlannedFlight};
use crate::model::{Flight, Reading};

/// When to turn back and to be down, as the meter on board shows it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[allow(missing_docs, reason = "each name says what it holds, with its unit")]
pub struct Marks {
    pub turn_back_mah: f64,
    pub land_by_mah: f64,
    /// Since lift-off.
    pub turn_back_at_s: f64,
    /// Since lift-off.
    pub land_by_at_s: f64,
}

/// Where a flight stands.
#[derive(Debug, Clone, PartialEq)]
pub struct InFlight {
    /// Since lift-off.
    pub elapsed_s: f64,
    /// What the meter should show now.
    pub used_mah: f64,
    /// One standard deviation of it.
    pub used_spread_mah: f64,
    /// What the meter shows less what this flight has used: what it started from, and what resets took off.
    pub offset_mah: f64,
    /// Used, over what the plan had used by now.
    pub over_plan_mah: f64,
    /// Consumption over the plan's, and one standard deviation of it.
    pub rate: [f64; 2],
    /// Capacity over the plan's, and one standard deviation of it.
    pub capacity: [f64; 2],
    /// On the meter when nothing is left.
    pub capacity_mah: f64,
    /// As planned.
    pub planned: Marks,
    /// Half of such flights have longer.
    pub middle: Marks,
    /// One in ten has less: to fly by.
    pub cautious: Marks,
    /// Since lift-off, when packs were found weaker than planned.
    pub weak_at_s: Option<f64>,
    /// What sounds now, the most urgent first.
    pub sounding: Vec<AlarmKind>,
    /// What sounds next, and when.
    pub next: Option<(AlarmKind, f64)>,
    /// Readings of the entry that the plan cannot take, by place.
    pub refused: Vec<usize>,
}

fn meter_start(flight: &Flight) -> f64 {
    flight.aloft.as_ref().map_or(0.0, |aloft| aloft.meter_start_mah)
}

/// A reading as core takes it: charge since the motors started.
fn of_core(reading: &Reading, start_mah: f64) -> MeterReading {
    MeterReading {
        time: Time::new::<second>(reading.time_s),
        used: reading.used_mah.map(|shown| ElectricCharge::new::<milliampere_hour>(shown - start_mah)),
        voltage: reading.voltage_v.map(ElectricPotential::new::<volt>),
        is_confirmed: reading.confirmed,
    }
}

/// A tracker that has taken the readings of an entry; when packs were found weak; readings that it could not take.
type Followed<'a> = (Tracker<'a>, Option<f64>, Vec<usize>);

fn followed<'a>(plan: &'a PlannedFlight, flight: &Flight) -> Result<Followed<'a>, InputError> {
    let mut tracker = Tracker::new(&plan.course, plan.spreads)?;
    let (mut weak_at_s, mut refused) = (None, Vec::new());
    for (place, reading) in flight.readings.iter().enumerate() {
        match tracker.take(&of_core(reading, meter_start(flight))) {
            Ok(taken) if taken.is_weak => weak_at_s = Some(reading.time_s),
            Ok(_) => {}
            Err(_) => refused.push(place),
        }
    }
    Ok((tracker, weak_at_s, refused))
}

/// Where a flight stands now, with the way home as it is now. Without one, turning back is due at once.
///
/// # Errors
/// `InputError` for a plan or a time out of range.
pub fn follow(
    plan: &PlannedFlight,
    flight: &Flight,
    home: Home,
    now_unix_ms: f64,
) -> Result<InFlight, InputError> {
    let (tracker, weak_at_s, refused) = followed(plan, flight)?;
    let start_mah = meter_start(flight);
    let elapsed_s = (now_unix_ms - flight.lift_off_unix_ms) / 1000.0;
    let now = Time::new::<second>(elapsed_s);
    let way_home = match home {
        Home::Now(way_home) => Some(way_home),
        Home::Planned | Home::None { .. } => None,
    };
    let mut at = tracker.project(now, way_home)?;
    if let Home::None { since_s } = home {
        let (used, since) = (at.used, Time::new::<second>(since_s));
        for marks in [&mut at.middle, &mut at.cautious] {
            marks.turn_back = marks.turn_back.min(used);
            marks.turn_back_at = marks.turn_back_at.min(since);
        }
    }
    let alarms = Alarms::new(&at.cautious, weak_at_s.map(Time::new::<second>));
    let touched: Vec<(AlarmKind, Time)> = flight
        .aloft
        .iter()
        .flat_map(|aloft| &aloft.touched)
        .filter_map(|touched| {
            Some((AlarmKind::from_key(&touched.alarm)?, Time::new::<second>(touched.time_s)))
        })
        .collect();
    let mah = |charge: ElectricCharge| charge.get::<milliampere_hour>();
    let marks = |marks: &AirborneMarks| Marks {
        turn_back_mah: (mah(marks.turn_back) + start_mah).max(0.0),
        land_by_mah: (mah(marks.land_by) + start_mah).max(0.0),
        turn_back_at_s: marks.turn_back_at.get::<second>(),
        land_by_at_s: marks.land_by_at.get::<second>(),
    };
    Ok(InFlight {
        elapsed_s,
        used_mah: mah(at.used) + start_mah,
        used_spread_mah: mah(at.used_spread),
        offset_mah: mah(at.offset) + start_mah,
        over_plan_mah: mah(at.over_plan),
        rate: [at.rate.value, at.rate_spread.value],
        capacity: [at.capacity.value, at.capacity_spread.value],
        capacity_mah: mah(plan.course.capacity) + start_mah,
        planned: marks(&at.planned),
        middle: marks(&at.middle),
        cautious: marks(&at.cautious),
        weak_at_s,
        sounding: alarms.sounding(now, &touched),
        next: alarms.next(now).map(|alarm| (alarm.kind, alarm.due.get::<second>())),
        refused,
    })
}

/// Whether a reading can be taken after those of the entry; what it says, or why it is asked back, in the meter's own mAh.
///
/// # Errors
/// Why it is asked back; a plan out of range takes none.
pub fn try_reading(plan: &PlannedFlight, flight: &Flight, reading: &Reading) -> Result<Taken, ReadingDoubt> {
    let (mut tracker, _, _) = followed(plan, flight).map_err(|_| ReadingDoubt::NoNumber)?;
    let start_mah = meter_start(flight);
    let shown = |charge: ElectricCharge| charge + ElectricCharge::new::<milliampere_hour>(start_mah);
    tracker.take(&of_core(reading, start_mah)).map_err(|doubt| match doubt {
        ReadingDoubt::LowerThanLast { last } => ReadingDoubt::LowerThanLast { last: shown(last) },
        ReadingDoubt::AboveCapacity { capacity } => ReadingDoubt::AboveCapacity { capacity: shown(capacity) },
        ReadingDoubt::FarAboveExpected { expected } => {
            ReadingDoubt::FarAboveExpected { expected: shown(expected) }
        }
        ReadingDoubt::Unlikely { expected } => ReadingDoubt::Unlikely { expected: shown(expected) },
        same @ (ReadingDoubt::Earlier { .. }
        | ReadingDoubt::NoNumber
        | ReadingDoubt::VoltageBeyondPacks { .. }) => same,
    })
}
