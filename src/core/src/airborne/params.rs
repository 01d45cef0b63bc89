//! What was planned, and how far it can be trusted.

use crate::input_error::InputError;
use crate::input_range::{InputRange, Kind};
use crate::units::{ElectricCharge, ElectricPotential, Ratio, Time};
use uom::si::ratio::ratio;
use uom::si::time::second;

/// The plan at one moment, by the meter on board.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CoursePoint {
    /// Since lift-off.
    pub time: Time,
    /// Shown by the meter.
    pub used: ElectricCharge,
    /// On the bus, under load.
    pub voltage: ElectricPotential,
}

/// What coming home costs: way, descent, go-around kept in hand, landing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WayHome {
    /// By the meter on board.
    pub used: ElectricCharge,
    /// From turning back to the ground.
    pub time: Time,
}

/// Marks of the card for nine aircraft in ten, by the meter on board.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CautiousMarks {
    /// To be down.
    pub land_by: ElectricCharge,
    /// To turn back.
    pub turn_back: ElectricCharge,
}

/// A flight as the card planned it, from lift-off to turning back, then home.
#[derive(Debug, Clone, PartialEq)]
pub struct PlannedCourse {
    /// At least two, each later than the one before, with no less used.
    pub points: Vec<CoursePoint>,
    /// After the last of them.
    pub way_home: WayHome,
    /// On the meter when the aircraft must be down: half of the aircraft can go further.
    pub land_by: ElectricCharge,
    /// The card's for nine aircraft in ten: no mark to fly by is later, that of turning back while the way home is as planned.
    pub cautious: CautiousMarks,
    /// How much lower `land_by` is when power is one per cent higher, times 100: the voltage floor may come first.
    pub land_by_falls: ElectricCharge,
    /// On the meter when nothing is left.
    pub capacity: ElectricCharge,
    /// What the load on set takes off the voltage.
    pub sag_on_set: ElectricPotential,
}

impl PlannedCourse {
    /// 2 to 100,000.
    pub const POINTS: InputRange = InputRange::new("course_points", Kind::Count, 2.0, 1e5);
    /// One millisecond to four hours from one point to the next.
    pub const TIME_STEP: InputRange = InputRange::new("course_time_step", Kind::Duration, 1e-3, 14_400.0);
    /// 0 to 1,000 Ah, of every charge.
    pub const CHARGE: InputRange = InputRange::new("course_charge", Kind::Charge, 0.0, 3.6e6);
    /// 1 to 1,000 V.
    pub const VOLTAGE: InputRange = InputRange::new("course_voltage", Kind::Potential, 1.0, 1000.0);
    /// 0 to 500 V.
    pub const SAG: InputRange = InputRange::new("course_sag", Kind::Potential, 0.0, 500.0);
    /// One second to four hours.
    pub const WAY_HOME: InputRange = InputRange::new("way_home_time", Kind::Duration, 1.0, 14_400.0);

    /// Holds every figure against its range.
    ///
    /// # Errors
    /// `InputError::OutOfRange` naming the first that misses.
    pub fn validate(&self) -> Result<(), InputError> {
        Self::POINTS.check(self.points.len() as f64)?;
        for point in &self.points {
            Self::CHARGE.check(point.used.value)?;
            Self::VOLTAGE.check(point.voltage.value)?;
        }
        for pair in self.points.windows(2) {
            if let [before, after] = pair {
                Self::TIME_STEP.check((after.time - before.time).value)?;
                Self::CHARGE.check((after.used - before.used).value)?;
            }
        }
        Self::WAY_HOME.check(self.way_home.time.value)?;
        let cautious = [self.cautious.land_by, self.cautious.turn_back];
        let charges = [self.way_home.used, self.land_by, self.land_by_falls, self.capacity];
        for charge in charges.into_iter().chain(cautious) {
            Self::CHARGE.check(charge.value)?;
        }
        Self::SAG.check(self.sag_on_set.value).map(drop)
    }
}

/// One standard deviation of whatever stands between plan, meter and truth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TrackingSpreads {
    /// Consumption over the plan's, before any reading.
    pub rate: Ratio,
    /// How much that wanders in a minute (it grows with the root of time). 2 %: common practice, no source.
    pub drift_a_minute: Ratio,
    /// Capacity of the packs over the plan's.
    pub capacity: Ratio,
    /// What the meter's digits leave open.
    pub meter: ElectricCharge,
    /// Between looking at the meter and the stamp of the reading. 3 s: common practice, no source.
    pub stamp: Time,
    /// What the model leaves open of the bus voltage under load.
    pub voltage: ElectricPotential,
}

impl TrackingSpreads {
    /// 0.001 to 0.5, of rate and capacity.
    pub const SHARE: InputRange = InputRange::new("tracking_spread", Kind::Share, 0.001, 0.5);
    /// 0 to 0.5.
    pub const DRIFT: InputRange = InputRange::new("rate_drift", Kind::Share, 0.0, 0.5);
    /// 1 mAh to 10 Ah.
    pub const METER: InputRange = InputRange::new("meter_spread", Kind::Charge, 3.6, 36_000.0);
    /// 0 to 60 s.
    pub const STAMP: InputRange = InputRange::new("stamp_spread", Kind::Duration, 0.0, 60.0);
    /// 1 mV to 100 V.
    pub const VOLTAGE: InputRange = InputRange::new("voltage_spread", Kind::Potential, 1e-3, 100.0);

    /// What is usual beside the spreads of the plan.
    pub fn usual(rate: Ratio, capacity: Ratio, meter: ElectricCharge, voltage: ElectricPotential) -> Self {
        let (drift_a_minute, stamp) = (Ratio::new::<ratio>(0.02), Time::new::<second>(3.0));
        Self { rate, drift_a_minute, capacity, meter, stamp, voltage }
    }

    /// Holds every figure against its range.
    ///
    /// # Errors
    /// `InputError::OutOfRange` naming the first that misses.
    pub fn validate(&self) -> Result<(), InputError> {
        Self::SHARE.check(self.rate.value)?;
        Self::SHARE.check(self.capacity.value)?;
        Self::DRIFT.check(self.drift_a_minute.value)?;
        Self::METER.check(self.meter.value)?;
        Self::STAMP.check(self.stamp.value)?;
        Self::VOLTAGE.check(self.voltage.value).map(drop)
    }
}
