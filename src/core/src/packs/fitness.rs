//! Whether a pack is fit to fly, with each reason.
//!
//! Formula: capacity now over new; each cell's resistance over the median of the pack's cells; each cell's rest voltage less that
//! median; highest less lowest cell; age; cycles. Units: shares, V, years. Source: thresholds are common practice, no source; all
//! settable. Valid: readings in their ranges. Assumes: cells of one pack were alike when new, and measured in one go.

use uom::si::electric_potential::volt;
use uom::si::ratio::ratio;

use super::pack_reading::PackReading;
use crate::cell::CellBehaviour;
use crate::input_error::InputError;
use crate::input_range::{InputRange, Kind};
use crate::limits::State;
use crate::units::{ElectricPotential, Ratio};

/// Where fitness ends: from the first on a thing to watch, from the second on not fit. Common practice, no source.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FitnessThresholds {
    /// Capacity over new, least.
    pub capacity: [Ratio; 2],
    /// A cell's resistance over its sisters' median, greatest.
    pub cell_resistance: [Ratio; 2],
    /// A cell's rest voltage off its sisters' median, greatest.
    pub cell_voltage: [ElectricPotential; 2],
    /// Highest less lowest cell, greatest.
    pub imbalance: [ElectricPotential; 2],
    /// Years, greatest: to be watched.
    pub age_years: Ratio,
    /// Cycles, greatest: to be watched.
    pub cycles: Ratio,
}

impl Default for FitnessThresholds {
    fn default() -> Self {
        let (share, volts) = (Ratio::new::<ratio>, ElectricPotential::new::<volt>);
        Self {
            capacity: [share(0.8), share(0.7)],
            cell_resistance: [share(1.3), share(1.6)],
            cell_voltage: [volts(0.02), volts(0.05)],
            imbalance: [volts(0.03), volts(0.10)],
            age_years: share(3.0),
            cycles: share(300.0),
        }
    }
}

impl FitnessThresholds {
    /// 0 to 1.
    pub const CAPACITY: InputRange = InputRange::new("capacity_threshold", Kind::Share, 0.0, 1.0);
    /// 1 to 10.
    pub const CELL_RESISTANCE: InputRange =
        InputRange::new("cell_resistance_threshold", Kind::Number, 1.0, 10.0);
    /// 1 mV to 1 V.
    pub const CELL_VOLTAGE: InputRange =
        InputRange::new("cell_voltage_threshold", Kind::Potential, 0.001, 1.0);
    /// 0 to 30 years.
    pub const AGE: InputRange = InputRange::new("age_threshold", Kind::Number, 0.0, 30.0);
    /// 0 to 5,000.
    pub const CYCLES: InputRange = InputRange::new("cycles_threshold", Kind::Number, 0.0, 5000.0);

    fn check(&self) -> Result<(), InputError> {
        self.capacity.iter().try_for_each(|share| Self::CAPACITY.check(share.value).map(drop))?;
        self.cell_resistance
            .iter()
            .try_for_each(|share| Self::CELL_RESISTANCE.check(share.value).map(drop))?;
        let volts = self.cell_voltage.iter().chain(&self.imbalance);
        volts.map(|volts| volts.value).try_for_each(|volts| Self::CELL_VOLTAGE.check(volts).map(drop))?;
        Self::AGE.check(self.age_years.value)?;
        Self::CYCLES.check(self.cycles.value).map(drop)
    }
}

/// Why a pack is to be watched, or not fit. Cells from 0.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum FitnessReason {
    /// It holds too little of what it held when new.
    Capacity {
        /// Now over new.
        share: Ratio,
    },
    /// A cell resists more than its sisters.
    CellResistance {
        /// The cell.
        cell: usize,
        /// Over the median.
        share: Ratio,
    },
    /// A cell's rest voltage stands out from its sisters.
    CellVoltage {
        /// The cell.
        cell: usize,
        /// Less the median.
        off: ElectricPotential,
    },
    /// Cells lie too far apart.
    Imbalance {
        /// Highest less lowest.
        spread: ElectricPotential,
    },
    /// A cell below empty: charging it again can be dangerous.
    Empty {
        /// The cell.
        cell: usize,
        /// Its rest voltage.
        voltage: ElectricPotential,
    },
    /// A cell above full.
    Overcharged {
        /// The cell.
        cell: usize,
        /// Its rest voltage.
        voltage: ElectricPotential,
    },
    /// It is old.
    Age {
        /// Years.
        years: Ratio,
    },
    /// It was charged often.
    Cycles {
        /// How often.
        cycles: u32,
    },
}

impl FitnessReason {
    /// Its stable name in files and reports.
    pub const fn key(&self) -> &'static str {
        match self {
            Self::Capacity { .. } => "capacity",
            Self::CellResistance { .. } => "cell-resistance",
            Self::CellVoltage { .. } => "cell-voltage",
            Self::Imbalance { .. } => "imbalance",
            Self::Empty { .. } => "empty-cell",
            Self::Overcharged { .. } => "overcharged-cell",
            Self::Age { .. } => "age",
            Self::Cycles { .. } => "cycles",
        }
    }
}

/// Whether a pack is fit.
#[derive(Debug, Clone, PartialEq)]
pub struct Fitness {
    /// The worst of the reasons; fine without one.
    pub state: State,
    /// Each with how it stands, worst first.
    pub reasons: Vec<(State, FitnessReason)>,
    /// Capacity at 25 °C over new, measured or by cycles.
    pub capacity_share: Ratio,
}

/// How a value stands that is bad from `watch` on and worse from `no` on.
fn stands(value: f64, [watch, no]: [f64; 2]) -> State {
    if value >= no {
        State::No
    } else if value >= watch {
        State::Watch
    } else {
        State::Fine
    }
}

fn median(mut values: Vec<f64>) -> Option<f64> {
    values.sort_by(f64::total_cmp);
    let middle = values.len() / 2;
    let upper = values.get(middle).copied()?;
    if values.len() % 2 == 1 { Some(upper) } else { Some(0.5 * (upper + values.get(middle - 1).copied()?)) }
}

/// Fitness of a pack.
///
/// # Errors
/// `InputError::OutOfRange` naming the field.
pub fn fitness(reading: &PackReading, thresholds: &FitnessThresholds) -> Result<Fitness, InputError> {
    reading.validate()?;
    thresholds.check()?;
    let pack = &reading.pack;
    let behaviour = CellBehaviour::default();
    let by_cycles = behaviour.capacity_by_cycles(f64::from(pack.health.cycles));
    let share = pack.health.measured_capacity.map_or(by_cycles, |now| (now / pack.cell.capacity).value);
    let mut reasons = Vec::new();
    let least = thresholds.capacity.map(|share| -share.value);
    // At the threshold itself it is still fit.
    let capacity = stands(-share - 1e-9, least);
    reasons.push((capacity, FitnessReason::Capacity { share: Ratio::new::<ratio>(share) }));
    by_resistance(reading, thresholds, &mut reasons);
    by_voltage(reading, thresholds, &mut reasons);
    if let Some(years) = reading.age_years.filter(|years| *years >= thresholds.age_years) {
        reasons.push((State::Watch, FitnessReason::Age { years }));
    }
    if f64::from(pack.health.cycles) >= thresholds.cycles.value {
        reasons.push((State::Watch, FitnessReason::Cycles { cycles: pack.health.cycles }));
    }
    reasons.retain(|(state, _)| *state != State::Fine);
    reasons.sort_by_key(|(state, _)| core::cmp::Reverse(*state));
    let state = reasons.first().map_or(State::Fine, |(state, _)| *state);
    Ok(Fitness { state, reasons, capacity_share: Ratio::new::<ratio>(share) })
}

fn by_resistance(
    reading: &PackReading,
    thresholds: &FitnessThresholds,
    reasons: &mut Vec<(State, FitnessReason)>,
) {
    let ohms: Vec<f64> = reading.cell_resistances.iter().map(|ohms| ohms.value).collect();
    let Some(middle) = median(ohms.clone()) else { return };
    for (cell, ohm) in ohms.iter().enumerate() {
        let share = ohm / middle;
        let state = stands(share, thresholds.cell_resistance.map(|share| share.value));
        reasons.push((state, FitnessReason::CellResistance { cell, share: Ratio::new::<ratio>(share) }));
    }
}

fn by_voltage(
    reading: &PackReading,
    thresholds: &FitnessThresholds,
    reasons: &mut Vec<(State, FitnessReason)>,
) {
    let volts: Vec<f64> = reading.cell_voltages.iter().map(|volts| volts.value).collect();
    let Some(middle) = median(volts.clone()) else { return };
    let as_voltage = ElectricPotential::new::<volt>;
    // A voltmeter's last digit.
    let digit_v = 1e-6;
    let bound = reading.pack.cell.chemistry.rest_voltage_bound();
    for (cell, &cell_v) in volts.iter().enumerate() {
        let off_v = cell_v - middle;
        let state = stands(off_v.abs() + digit_v, thresholds.cell_voltage.map(|volts| volts.value));
        reasons.push((state, FitnessReason::CellVoltage { cell, off: as_voltage(off_v) }));
        let voltage = as_voltage(cell_v);
        if cell_v < bound.min {
            reasons.push((State::No, FitnessReason::Empty { cell, voltage }));
        } else if cell_v > bound.max {
            reasons.push((State::No, FitnessReason::Overcharged { cell, voltage }));
        }
    }
    let highest = volts.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let lowest = volts.iter().copied().fold(f64::INFINITY, f64::min);
    let spread_v = highest - lowest;
    let state = stands(spread_v + digit_v, thresholds.imbalance.map(|volts| volts.value));
    reasons.push((state, FitnessReason::Imbalance { spread: as_voltage(spread_v) }));
}
