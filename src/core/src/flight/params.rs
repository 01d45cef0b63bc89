//! When a flight must end, and what one looks like.

use crate::cell::CellBehaviour;
use crate::input_error::InputError;
use crate::input_range::{InputRange, Kind};
use crate::profile::LegKind;
use crate::supply::{MeterPlace, Source};
use crate::units::{
    ElectricCharge, ElectricCurrent, ElectricPotential, Power, Ratio, ThermodynamicTemperature, Time,
};

/// What must be left at touchdown: the strictest rules.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ReservePolicy {
    /// Share of each string's present capacity. 0.20 is common practice, no source.
    pub share: Ratio,
    /// Time that must be left, at the power on set.
    pub time: Option<Time>,
    /// Charge that must be left in each string.
    pub charge: Option<ElectricCharge>,
    /// Least cell voltage under load.
    pub loaded_cell_floor: ElectricPotential,
}

impl ReservePolicy {
    /// 0 to 0.9.
    pub const SHARE: InputRange = InputRange::new("reserve_share", Kind::Share, 0.0, 0.9);
    /// 0 to 20 min.
    pub const TIME: InputRange = InputRange::new("reserve_time", Kind::Duration, 0.0, 1200.0);
    /// 0 to 100 Ah.
    pub const CHARGE: InputRange = InputRange::new("reserve_charge", Kind::Charge, 0.0, 360_000.0);
    /// 2.5 to 3.8 V.
    pub const LOADED_CELL_FLOOR: InputRange = InputRange::new("loaded_cell_floor", Kind::Potential, 2.5, 3.8);
}

impl ReservePolicy {
    /// Passes if every field lies in its range.
    ///
    /// # Errors
    /// `InputError::OutOfRange` naming the field.
    pub fn validate(&self) -> Result<(), InputError> {
        Self::SHARE.check(self.share.value)?;
        if let Some(time) = self.time {
            Self::TIME.check(time.value)?;
        }
        if let Some(charge) = self.charge {
            Self::CHARGE.check(charge.value)?;
        }
        Self::LOADED_CELL_FLOOR.check(self.loaded_cell_floor.value)?;
        Ok(())
    }
}

/// What ended the flight.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FlightLimit {
    /// The reserve as a share of capacity.
    ReserveShare,
    /// The reserve as time.
    ReserveTime,
    /// The reserve as charge.
    ReserveCharge,
    /// The loaded cell voltage floor.
    LoadedCellFloor,
    /// The greatest power the supply can give (only where lead losses let it come before the floor).
    GreatestPower,
}

impl FlightLimit {
    /// Its stable name in files and reports.
    pub const fn key(self) -> &'static str {
        match self {
            Self::ReserveShare => "reserve-share",
            Self::ReserveTime => "reserve-time",
            Self::ReserveCharge => "reserve-charge",
            Self::LoadedCellFloor => "loaded-cell-floor",
            Self::GreatestPower => "greatest-power",
        }
    }
}

/// Why there is no flight at all.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum NoFlight {
    /// Even with no time on set the way out and home breaks this limit.
    TooLittleCharge {
        /// The limit that is broken.
        limit: FlightLimit,
        /// When it is broken, after motor start.
        at: Time,
    },
    /// A leg asks for more power than the supply can give at any voltage.
    VoltageCollapse {
        /// The leg.
        leg: LegKind,
        /// Power asked, auxiliaries included.
        asked: Power,
        /// The greatest power the supply could give then.
        greatest: Power,
    },
}

/// One string at one moment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StringSample {
    /// Current out of the string.
    pub current: ElectricCurrent,
    /// Charge used since the start.
    pub used: ElectricCharge,
    /// Loaded voltage of its weakest cell.
    pub cell_voltage: ElectricPotential,
    /// State of charge of its weakest pack.
    pub state_of_charge: Ratio,
    /// Cell temperature of its warmest pack.
    pub temperature: ThermodynamicTemperature,
}

/// The flight at one moment.
#[derive(Debug, Clone, PartialEq)]
pub struct Sample {
    /// Time since motor start.
    pub time: Time,
    /// The leg being flown.
    pub leg: LegKind,
    /// Bus voltage under load.
    pub bus_voltage: ElectricPotential,
    /// Current on the bus.
    pub bus_current: ElectricCurrent,
    /// Each string.
    pub strings: Vec<StringSample>,
}

/// What one meter shows at the decisive moments.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MeterMarks {
    /// Where the meter sits.
    pub place: MeterPlace,
    /// Shown when the way home must begin.
    pub turn_back: ElectricCharge,
    /// Shown when the aircraft must be down.
    pub land_by: ElectricCharge,
    /// Shown when the present capacity is used up.
    pub capacity: ElectricCharge,
}

/// The longest flight that the reserve policy allows.
#[derive(Debug, Clone, PartialEq)]
pub struct Flight {
    /// From lift-off to touchdown when the go-around kept in hand is not needed.
    pub flight_time: Time,
    /// Of that, on set.
    pub time_on_set: Time,
    /// From motor start to turning back.
    pub turn_back_at: Time,
    /// From motor start to the moment the limit is reached, the go-around flown.
    pub land_by_at: Time,
    /// What rules.
    pub limit: FlightLimit,
    /// The meter on board.
    pub marks: MeterMarks,
    /// Every meter that could be on board: the bus, then each string.
    pub marks_by_meter: Vec<MeterMarks>,
    /// The course of it, a sample at least every 10 s and at each change of leg.
    pub samples: Vec<Sample>,
    /// Bus voltage at touchdown under the load on set.
    pub bus_voltage_at_land_by: ElectricPotential,
    /// The packs at touchdown, for thrust margins at land-by.
    pub source_at_land_by: Source,
    /// Extremes on the way, the go-around flown.
    pub extremes: Extremes,
}

/// The hardest the packs are used in a flight.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Extremes {
    /// Greatest C rate of any pack: current over capacity when new, per hour.
    pub c_rate: Ratio,
    /// Greatest current of any pack over its maker's continuous rating.
    pub share_of_c_rating: Ratio,
    /// Lowest loaded cell voltage.
    pub cell_voltage: ElectricPotential,
    /// Warmest pack's cells.
    pub temperature: ThermodynamicTemperature,
}

/// The longest flight without its course: for sampling.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BriefFlight {
    /// From lift-off to touchdown when the go-around kept in hand is not needed.
    pub flight_time: Time,
    /// Of that, on set.
    pub time_on_set: Time,
    /// From motor start to turning back.
    pub turn_back_at: Time,
    /// From motor start to the moment the limit is reached, the go-around flown.
    pub land_by_at: Time,
    /// What rules.
    pub limit: FlightLimit,
    /// The meter on board.
    pub marks: MeterMarks,
    /// Bus voltage at touchdown under the load on set.
    pub bus_voltage_at_land_by: ElectricPotential,
}

/// How the flight is computed; the default serves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FlightSettings {
    /// How the cells behave.
    pub behaviour: CellBehaviour,
    /// Air around the packs, for the predicted temperature; none takes each pack's own at the start.
    pub surroundings: Option<ThermodynamicTemperature>,
    /// Steps over the usual number: 2 halves each step.
    pub refinement: Ratio,
}

impl Default for FlightSettings {
    fn default() -> Self {
        Self {
            behaviour: CellBehaviour::default(),
            surroundings: None,
            refinement: Ratio::new::<uom::si::ratio::ratio>(1.0),
        }
    }
}

impl FlightSettings {
    /// −50 to 60 °C.
    pub const SURROUNDINGS: InputRange =
        InputRange::new("pack_surroundings", Kind::Temperature, 223.15, 333.15);
    /// 0.1 to 16.
    pub const REFINEMENT: InputRange = InputRange::new("refinement", Kind::Number, 0.1, 16.0);
}

/// Range of a fixed leg's power: 0 to 1 MW.
pub static LEG_POWER: InputRange = InputRange::new("leg_power", Kind::Power, 0.0, 1e6);
/// Range of a fixed leg's duration: 0 to 4 h.
pub static LEG_DURATION: InputRange = InputRange::new("leg_duration", Kind::Duration, 0.0, 14_400.0);
/// Range of the power on set: 1 W to 1 MW.
pub static ON_SET_POWER: InputRange = InputRange::new("on_set_power", Kind::Power, 1.0, 1e6);
/// Range of the number of fixed legs, out or home.
pub static LEGS: InputRange = InputRange::new("legs", Kind::Count, 0.0, 64.0);
