//! A flight of a known length: what the meter counts in it.
//!
//! Formula   the legs as planned but for the go-around, on set for what is left of the time in the air; where the time is
//!           shorter than the legs, each leg in the air is shortened alike
//! Units     SI
//! Source    as `segment`
//! Valid     until the packs cannot give the power
//! Checked   against `fly` at its own flight time (tests/it/flight_for_time.rs)
//! Assumes   out and home as planned; the meter was zero at motor start

use uom::si::electric_charge::coulomb;
use uom::si::electric_potential::volt;
use uom::si::time::second;

use super::longest::FlightTask;
use super::params::{FlightSettings, LEG_DURATION, ReservePolicy};
use super::segment::{Segment, Step};
use crate::input_error::InputError;
use crate::profile::{LegDemand, LegKind};
use crate::supply::{MeterPlace, Supply};
use crate::units::{ElectricCharge, ElectricPotential, Ratio, Time};

/// What a flight of a known length leaves behind.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct UsedInFlight {
    /// By the meter on board.
    pub used: ElectricCharge,
    /// Of the bus, the load of the last leg still on.
    pub bus_voltage: ElectricPotential,
}

/// A supply and legs, ready to be flown for any time at any power.
#[derive(Debug, Clone)]
pub struct TimedFlight {
    task: FlightTask,
    place: MeterPlace,
    scale: f64,
}

impl TimedFlight {
    /// Checks every input.
    ///
    /// # Errors
    /// `InputError` for a supply or demand outside its documented range.
    pub fn new(supply: &Supply, demand: &LegDemand) -> Result<Self, InputError> {
        let no_limit = ReservePolicy {
            share: Ratio::default(),
            time: None,
            charge: None,
            loaded_cell_floor: ElectricPotential::new::<volt>(ReservePolicy::LOADED_CELL_FLOOR.min),
        };
        let task = FlightTask::new(supply, demand, &no_limit, &FlightSettings::default())?;
        let scale = 1.0 + supply.meter.scale_error.value;
        Ok(Self { task, place: supply.meter.place, scale })
    }

    /// Flies for a time in the air, with motor power by this factor; none where the packs cannot give it.
    ///
    /// # Errors
    /// `InputError` for a time outside the range of a leg.
    pub fn fly(&self, airborne: Time, power: Ratio) -> Result<Option<UsedInFlight>, InputError> {
        let airborne_s = LEG_DURATION.check(airborne.get::<second>())?;
        let course = &self.task.course;
        let in_air = |step: &Step| if step.kind == LegKind::WarmUp { 0.0 } else { step.duration_s };
        let home = || course.homebound.iter().filter(|step| step.kind != LegKind::GoAround);
        let legs_s: f64 = course.outbound.iter().chain(home()).map(in_air).sum();
        let shortened = if legs_s > airborne_s { airborne_s / legs_s } else { 1.0 };
        let on_set_s = (airborne_s - legs_s).max(0.0);
        let on_set = Step { duration_s: on_set_s, ..course.on_set };
        let auxiliary_w = course.kernel.auxiliary_w;
        let mut segment = Segment::new(course, self.task.limits);
        for step in course.outbound.iter().chain([&on_set]).chain(home()) {
            let power_w = (step.power_w - auxiliary_w) * power.value + auxiliary_w;
            let share = if matches!(step.kind, LegKind::WarmUp | LegKind::OnSet) { 1.0 } else { shortened };
            let flown = Step { power_w, ..*step };
            if segment.fly(&flown, step.duration_s * share, &mut |_| true).is_err() {
                return Ok(None);
            }
        }
        Ok(segment.look(course.on_set.power_w).ok().map(|moment| UsedInFlight {
            used: ElectricCharge::new::<coulomb>(self.shown_c(&segment)),
            bus_voltage: ElectricPotential::new::<volt>(moment.working.bus_v),
        }))
    }

    fn shown_c(&self, segment: &Segment<'_>) -> f64 {
        let kernel = &self.task.course.kernel;
        let used_c = |string| kernel.used_c(string, &segment.states);
        let passed_c = match self.place {
            MeterPlace::Bus => (0..kernel.strings()).map(used_c).sum::<f64>(),
            MeterPlace::String(string) => used_c(string),
        };
        passed_c * self.scale
    }
}
