//! Readings weighed against the plan, one after another.
//!
//! Formula   the filter of `state`; a meter reading sees q with variance σ_m² + (f ṗ σ_t)²; a voltage sees
//!           U = u(q / c) − (f − 1) ΔU, u the plan's voltage over charge used, linearised where the state stands
//! Units     C, V, s
//! Source    extended Kalman filter (textbook, from memory); thresholds of what is asked back and of the alarm (three
//!           deviations): common practice, no source
//! Valid     on set and on the way; u is the plan's load, so a voltage read while sinking or on the ground looks too good:
//!           one above what is expected therefore never makes the projection longer
//! Checked   the land-by minute against flights of the packs' own model at other powers (tests/it/airborne.rs)
//! Assumes   the meter's own scale error is in the plan; packs that give less capacity follow the same curve

use super::params::{PlannedCourse, TrackingSpreads};
use super::reading::{MeterReading, ReadingDoubt};
use super::state::FilterState;
use crate::input_error::InputError;
use crate::units::{ElectricCharge, ElectricPotential, Ratio, Time};
use uom::si::electric_charge::coulomb;
use uom::si::electric_potential::volt;
use uom::si::ratio::ratio;
use uom::si::time::second;

const FAR_ABOVE: f64 = 10.0;
const UNLIKELY_ABOVE: f64 = 2.0;
const UNLIKELY_BELOW: f64 = 0.4;
/// Deviations of a reading below which nothing is asked back: soon after another one everything is a multiple.
const READING_DEVIATIONS: f64 = 4.0;
/// Deviations below the expected voltage from which packs are weaker than planned.
const WEAK_DEVIATIONS: f64 = 3.0;
const LOWEST_VOLTAGE: f64 = 0.5;
const HIGHEST_VOLTAGE: f64 = 1.1;
/// Least capacity over the plan's that the voltage curve is read at.
const LEAST_CAPACITY: f64 = 0.2;

/// What a reading that was taken in says.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Taken {
    /// The meter was reset before it.
    pub was_reset: bool,
    /// The voltage is lower than the model can explain.
    pub is_weak: bool,
    /// Voltage less what was expected; none without one.
    pub voltage_miss: Option<ElectricPotential>,
    /// What was expected may be off by so much, one standard deviation.
    pub voltage_spread: Option<ElectricPotential>,
    /// Charge less what was expected, over what is expected of such a difference; none without a charge.
    pub surprise: Option<Ratio>,
}

/// Follows one flight.
#[derive(Debug, Clone)]
pub struct Tracker<'a> {
    pub(super) course: &'a PlannedCourse,
    pub(super) spreads: TrackingSpreads,
    pub(super) state: FilterState,
    pub(super) time_s: f64,
    /// What the meter shows less what was used.
    pub(super) offset_c: f64,
    last: Option<(f64, f64)>,
}

impl<'a> Tracker<'a> {
    /// At lift-off.
    ///
    /// # Errors
    /// `InputError` for a plan or a spread outside its documented range.
    pub fn new(course: &'a PlannedCourse, spreads: TrackingSpreads) -> Result<Self, InputError> {
        course.validate()?;
        spreads.validate()?;
        let start = course.points.first().map_or((0.0, 0.0), |point| (point.time.value, point.used.value));
        let state = FilterState::new([start.1, 1.0, 1.0], [0.0, spreads.rate.value, spreads.capacity.value]);
        Ok(Self { course, spreads, state, time_s: start.0, offset_c: 0.0, last: None })
    }

    /// What the plan has used at a time; before its start and after its end with the rate there.
    pub(super) fn planned_c(&self, time_s: f64) -> f64 {
        along(&self.course.points, time_s, |point| point.time.value, |point| point.used.value)
    }

    /// What the plan uses in a second.
    pub(super) fn planned_rate(&self, time_s: f64) -> f64 {
        const STEP_S: f64 = 5.0;
        (self.planned_c(time_s + STEP_S) - self.planned_c(time_s - STEP_S)) / (2.0 * STEP_S)
    }

    /// The state carried on to a time.
    pub(super) fn carried(&self, time_s: f64) -> FilterState {
        let mut state = self.state;
        let walk = self.spreads.drift_a_minute.value.powi(2) * (time_s - self.time_s).max(0.0) / 60.0;
        state.carry(self.planned_c(time_s) - self.planned_c(self.time_s), walk);
        state
    }

    /// Takes in a reading; one that is asked back changes nothing.
    ///
    /// # Errors
    /// Why it is asked back.
    pub fn take(&mut self, reading: &MeterReading) -> Result<Taken, ReadingDoubt> {
        let time_s = reading.time.get::<second>();
        if !time_s.is_finite() {
            return Err(ReadingDoubt::NoNumber);
        }
        if time_s < self.time_s {
            return Err(ReadingDoubt::Earlier { last: Time::new::<second>(self.time_s) });
        }
        let carried = self.carried(time_s);
        if let Some(used) = reading.used {
            self.doubt(used.get::<coulomb>(), time_s, &carried, reading.is_confirmed)?;
        }
        if let Some(voltage) = reading.voltage {
            self.doubt_voltage(voltage.get::<volt>(), reading.is_confirmed)?;
        }
        self.state = carried;
        self.time_s = time_s;
        let mut taken = Taken::default();
        if let Some(used) = reading.used {
            self.take_charge(used.get::<coulomb>(), time_s, &mut taken);
        }
        if let Some(voltage) = reading.voltage {
            self.take_voltage(voltage.get::<volt>(), &mut taken);
        }
        Ok(taken)
    }

    fn meter_deviation(&self, time_s: f64, rate: f64) -> f64 {
        self.spreads.meter.value.hypot(rate * self.planned_rate(time_s) * self.spreads.stamp.value)
    }

    fn doubt(
        &self,
        shown_c: f64,
        time_s: f64,
        carried: &FilterState,
        is_confirmed: bool,
    ) -> Result<(), ReadingDoubt> {
        if !shown_c.is_finite() || shown_c < 0.0 {
            return Err(ReadingDoubt::NoNumber);
        }
        if is_confirmed {
            return Ok(());
        }
        let charge = |value_c: f64| ElectricCharge::new::<coulomb>(value_c);
        let (start_s, start_c) =
            self.course.points.first().map_or((0.0, 0.0), |at| (at.time.value, at.used.value));
        let (last_s, last_c) = self.last.unwrap_or((start_s, start_c + self.offset_c));
        if self.last.is_some() && shown_c < last_c {
            return Err(ReadingDoubt::LowerThanLast { last: charge(last_c) });
        }
        let capacity_c = self.course.capacity.value + self.offset_c;
        if shown_c > capacity_c {
            return Err(ReadingDoubt::AboveCapacity { capacity: charge(capacity_c) });
        }
        let expected = charge(carried.mean[0] + self.offset_c);
        let since_c = carried.mean[1] * (self.planned_c(time_s) - self.planned_c(last_s));
        let room_c = READING_DEVIATIONS * self.meter_deviation(time_s, carried.mean[1]);
        let more_c = shown_c - last_c;
        if more_c > FAR_ABOVE * since_c + room_c {
            return Err(ReadingDoubt::FarAboveExpected { expected });
        }
        if more_c > UNLIKELY_ABOVE * since_c + room_c || more_c < UNLIKELY_BELOW * since_c - room_c {
            return Err(ReadingDoubt::Unlikely { expected });
        }
        Ok(())
    }

    fn doubt_voltage(&self, voltage_v: f64, is_confirmed: bool) -> Result<(), ReadingDoubt> {
        if !voltage_v.is_finite() || voltage_v <= 0.0 {
            return Err(ReadingDoubt::NoNumber);
        }
        let voltages = self.course.points.iter().map(|point| point.voltage.value);
        let (low, high) = voltages.fold((f64::INFINITY, 0.0_f64), |(low, high), v| (low.min(v), high.max(v)));
        let (least, greatest) = (LOWEST_VOLTAGE * low, HIGHEST_VOLTAGE * high);
        if is_confirmed || (least..=greatest).contains(&voltage_v) {
            return Ok(());
        }
        let potential = |value_v: f64| ElectricPotential::new::<volt>(value_v);
        Err(ReadingDoubt::VoltageBeyondPacks { least: potential(least), greatest: potential(greatest) })
    }

    fn take_charge(&mut self, shown_c: f64, time_s: f64, taken: &mut Taken) {
        if self.last.is_some_and(|(_, last_c)| shown_c < last_c) {
            // What was used until then is the plan's word alone; from here on the meter counts again.
            self.offset_c = shown_c - self.state.mean[0];
            taken.was_reset = true;
        } else {
            let h = [1.0, 0.0, 0.0];
            let variance = self.meter_deviation(time_s, self.state.mean[1]).powi(2);
            let miss_c = shown_c - self.offset_c - self.state.mean[0];
            let whole = (self.state.variance_along(h) + variance).sqrt();
            taken.surprise = Some(Ratio::new::<ratio>(miss_c / whole));
            self.state.take(h, miss_c, variance);
        }
        self.last = Some((time_s, shown_c));
    }

    /// The plan's voltage when so much is used.
    fn planned_voltage(&self, used_c: f64) -> f64 {
        along(&self.course.points, used_c, |point| point.used.value, |point| point.voltage.value)
    }

    fn take_voltage(&mut self, voltage_v: f64, taken: &mut Taken) {
        let [used_c, rate, capacity] = self.state.mean;
        let capacity = capacity.max(LEAST_CAPACITY);
        let step_c = (0.005 * self.course.capacity.value).max(1.0);
        let at_c = used_c / capacity;
        let slope =
            (self.planned_voltage(at_c + step_c) - self.planned_voltage(at_c - step_c)) / (2.0 * step_c);
        let expected = self.planned_voltage(at_c) - (rate - 1.0) * self.course.sag_on_set.value;
        let h = [slope / capacity, -self.course.sag_on_set.value, -slope * at_c / capacity];
        let variance = self.spreads.voltage.value.powi(2);
        let whole = (self.state.variance_along(h) + variance).sqrt();
        let miss = voltage_v - expected;
        taken.is_weak = miss < -WEAK_DEVIATIONS * whole;
        taken.voltage_miss = Some(ElectricPotential::new::<volt>(miss));
        taken.voltage_spread = Some(ElectricPotential::new::<volt>(whole));
        // Nobody says in which phase it was read: the good side is not believed.
        if miss <= 0.0 {
            self.state.take(h, miss, variance);
        }
    }
}

/// Linear between points and beyond them; points whose abscissae are equal are passed over.
fn along<T>(points: &[T], at: f64, x: impl Fn(&T) -> f64, y: impl Fn(&T) -> f64) -> f64 {
    let Some(first) = points.first() else { return 0.0 };
    let after = points.partition_point(|point| x(point) <= at).clamp(1, points.len().max(2) - 1);
    let (mut low, mut high) = (after - 1, after);
    while low > 0 && points.get(high).zip(points.get(low)).is_none_or(|(high, low)| x(high) <= x(low)) {
        low -= 1;
    }
    while high + 1 < points.len() && points.get(high).zip(points.get(low)).is_none_or(|(h, l)| x(h) <= x(l)) {
        high += 1;
    }
    match points.get(low).zip(points.get(high)) {
        Some((low, high)) if x(high) > x(low) => {
            y(low) + (y(high) - y(low)) * (at - x(low)) / (x(high) - x(low))
        }
        _ => y(first),
    }
}
