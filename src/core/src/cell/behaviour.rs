//! How a cell's resistance, capacity and temperature behave: every constant with its origin, all settable.
//!
//! Formulas (s state of charge, T cell temperature, n cycles):
//! - resistance R(s, T, n) = R_25 · a(n) · f(T) · g(s), split into an ohmic share and one RC branch
//! - f(T) = exp(B (1/T − 1/298.15 K)) below 25 °C, 1 above: warmth above 25 °C is not credited
//! - g(s) = 1 + rise · exp(−s / scale)
//! - capacity C(T, n) = C_25 · 0.8^(n/life) · (1 − loss · (25 °C − T)) below 25 °C; no gain above
//! - a(n) = 1 + growth · n/life
//!
//! Each is monotone (colder, older, emptier is never better); that is what makes the flight monotone.
//! Capacity against rate: no Peukert factor. What is lost at a high rate is lost to sag at the floor, which the
//! circuit gives by itself; a factor on top would count it twice.

use uom::si::f64::{HeatTransfer, SpecificHeatCapacity};
use uom::si::heat_transfer::watt_per_square_meter_kelvin;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::ratio::ratio;
use uom::si::specific_heat_capacity::joule_per_kilogram_kelvin;
use uom::si::temperature_interval::kelvin;
use uom::si::time::second;

use crate::input_error::InputError;
use crate::input_range::{InputRange, Kind};
use crate::units::{MassDensity, Ratio, TemperatureInterval, Time};

/// Temperature at which capacity and resistance are stated, K.
pub(crate) const STATED_AT_K: f64 = 298.15;

/// How a cell behaves beside its capacity and resistance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CellBehaviour {
    /// Share of the resistance that acts at once; the rest comes with the time constant. Default 0.75:
    /// with 20 s it gives 85 % of the sag within 10 s, as the Ai et al. 2020 cell shows (0.2 s against 10 s pulse).
    pub ohmic_share: Ratio,
    /// Time constant of the RC branch. Default 20 s, see `ohmic_share`.
    pub time_constant: Time,
    /// Extra resistance of the empty cell over a full one, less one. Default 2.0, read from the apparent
    /// resistance of the Ai et al. 2020 cell at 2 C.
    pub low_charge_rise: Ratio,
    /// State of charge over which that rise fades by e. Default 0.12, same reading.
    pub low_charge_scale: Ratio,
    /// B of the resistance's temperature law. Default 1,800 K: the geometric middle of R(0 °C)/R(25 °C) = 1.14
    /// (Ai et al. 2020, model) and 2.62 (one hobby measurement). Doubt: a factor of 1.5 either way at 0 °C.
    pub resistance_temperature: TemperatureInterval,
    /// Capacity lost per kelvin below 25 °C. Default 0.004. Common practice, no source.
    pub capacity_loss_per_kelvin: Ratio,
    /// Cycles to 80 % of the capacity. Default 300. Common practice, no source.
    pub cycle_life: Ratio,
    /// Resistance gained by then, less one. Default 1.0 (doubled). Common practice, no source.
    pub resistance_growth: Ratio,
    /// Specific heat of a pack. Default 1,000 J/(kg·K). From memory.
    pub specific_heat: SpecificHeatCapacity,
    /// Density of a pack, for its surface as a cube's. Default 2,000 kg/m³. From memory.
    pub density: MassDensity,
    /// Heat transfer from that surface. Default 10 W/(m²·K), still air in a bay. Common practice, no source.
    pub heat_transfer: HeatTransfer,
}

impl Default for CellBehaviour {
    fn default() -> Self {
        Self {
            ohmic_share: Ratio::new::<ratio>(0.75),
            time_constant: Time::new::<second>(20.0),
            low_charge_rise: Ratio::new::<ratio>(2.0),
            low_charge_scale: Ratio::new::<ratio>(0.12),
            resistance_temperature: TemperatureInterval::new::<kelvin>(1800.0),
            capacity_loss_per_kelvin: Ratio::new::<ratio>(0.004),
            cycle_life: Ratio::new::<ratio>(300.0),
            resistance_growth: Ratio::new::<ratio>(1.0),
            specific_heat: SpecificHeatCapacity::new::<joule_per_kilogram_kelvin>(1000.0),
            density: MassDensity::new::<kilogram_per_cubic_meter>(2000.0),
            heat_transfer: HeatTransfer::new::<watt_per_square_meter_kelvin>(10.0),
        }
    }
}

impl CellBehaviour {
    /// 0.05 to 1.
    pub const OHMIC_SHARE: InputRange = InputRange::new("ohmic_share", Kind::Share, 0.05, 1.0);
    /// 0.1 s to 10 min.
    pub const TIME_CONSTANT: InputRange = InputRange::new("time_constant", Kind::Duration, 0.1, 600.0);
    /// 0 to 100: learned from slow runs it stands for the last percents of charge alone.
    pub const LOW_CHARGE_RISE: InputRange = InputRange::new("low_charge_rise", Kind::Number, 0.0, 100.0);
    /// 0.02 to 0.5.
    pub const LOW_CHARGE_SCALE: InputRange = InputRange::new("low_charge_scale", Kind::Share, 0.02, 0.5);
    /// 0 to 5,000 K.
    pub const RESISTANCE_TEMPERATURE: InputRange =
        InputRange::new("resistance_temperature", Kind::Number, 0.0, 5000.0);
    /// 0 to 0.02 per kelvin.
    pub const CAPACITY_LOSS_PER_KELVIN: InputRange =
        InputRange::new("capacity_loss_per_kelvin", Kind::Share, 0.0, 0.02);
    /// 50 to 5,000 cycles.
    pub const CYCLE_LIFE: InputRange = InputRange::new("cycle_life", Kind::Number, 50.0, 5000.0);
    /// 0 to 5.
    pub const RESISTANCE_GROWTH: InputRange = InputRange::new("resistance_growth", Kind::Number, 0.0, 5.0);
    /// 500 to 2,000 J/(kg·K).
    pub const SPECIFIC_HEAT: InputRange = InputRange::new("specific_heat", Kind::Number, 500.0, 2000.0);
    /// 1,000 to 3,500 kg/m³.
    pub const DENSITY: InputRange = InputRange::new("pack_density", Kind::Density, 1000.0, 3500.0);
    /// 0 to 200 W/(m²·K).
    pub const HEAT_TRANSFER: InputRange = InputRange::new("heat_transfer", Kind::Number, 0.0, 200.0);

    /// Passes if every constant lies in its range.
    ///
    /// # Errors
    /// `InputError::OutOfRange` naming the first that does not.
    pub fn check(&self) -> Result<(), InputError> {
        Self::OHMIC_SHARE.check(self.ohmic_share.value)?;
        Self::TIME_CONSTANT.check(self.time_constant.value)?;
        Self::LOW_CHARGE_RISE.check(self.low_charge_rise.value)?;
        Self::LOW_CHARGE_SCALE.check(self.low_charge_scale.value)?;
        Self::RESISTANCE_TEMPERATURE.check(self.resistance_temperature.value)?;
        Self::CAPACITY_LOSS_PER_KELVIN.check(self.capacity_loss_per_kelvin.value)?;
        Self::CYCLE_LIFE.check(self.cycle_life.value)?;
        Self::RESISTANCE_GROWTH.check(self.resistance_growth.value)?;
        Self::SPECIFIC_HEAT.check(self.specific_heat.value)?;
        Self::DENSITY.check(self.density.value)?;
        Self::HEAT_TRANSFER.check(self.heat_transfer.value)?;
        Ok(())
    }

    /// f(T): resistance over that at 25 °C.
    pub(crate) fn resistance_by_temperature(&self, temperature_k: f64) -> f64 {
        let inverse = 1.0 / temperature_k - 1.0 / STATED_AT_K;
        (self.resistance_temperature.value * inverse.max(0.0)).exp()
    }

    /// g(s): resistance over that of a full cell.
    pub(crate) fn resistance_by_charge(&self, state_of_charge: f64) -> f64 {
        1.0 + self.low_charge_rise.value * (-state_of_charge / self.low_charge_scale.value).exp()
    }

    /// Capacity over that at 25 °C.
    pub(crate) fn capacity_by_temperature(&self, temperature_k: f64) -> f64 {
        1.0 - self.capacity_loss_per_kelvin.value * (STATED_AT_K - temperature_k).max(0.0)
    }

    /// Capacity over that when new.
    pub(crate) fn capacity_by_cycles(&self, cycles: f64) -> f64 {
        0.8_f64.powf(cycles / self.cycle_life.value)
    }

    /// a(n): resistance over that when new.
    pub(crate) fn resistance_by_cycles(&self, cycles: f64) -> f64 {
        1.0 + self.resistance_growth.value * cycles / self.cycle_life.value
    }

    /// Heat capacity of a pack, J/K.
    pub(crate) fn heat_capacity_j_k(&self, mass_kg: f64) -> f64 {
        self.specific_heat.value * mass_kg
    }

    /// Heat a pack loses per kelvin above its surroundings, W/K: the surface of a cube of its volume.
    pub(crate) fn cooling_w_k(&self, mass_kg: f64) -> f64 {
        let volume_m3 = mass_kg / self.density.value;
        self.heat_transfer.value * 6.0 * volume_m3.powf(2.0 / 3.0)
    }
}
