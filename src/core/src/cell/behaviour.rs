//! How a cell's resistance, capacity and temperature behave: every constant with its origin, all settable.
//!
//! Formulas (s state of charge, T cell temperature, n cycles):
//! - resistance R(s, T, n) = R_25 · a(n) · f(T) · g(s), split into an ohmic share and one RC branch
//! - f(T) = exp(B (1/T − 1/298.15 K)) below 25 °C, 1 above: warmth above 25 °C is not credited
//! - g(s) = 1 + rise · exp(−s' / scale), s' = s − shift · x, x the current (as slow as the RC branch) in capacities an
//!   hour: what diffusion leaves at the surface runs empty before the mean does (surface state of charge of
//!   single-particle models, e.g. Subramanian et al. 2005; from memory). From three scales below s' = 0 its tangent goes on.
//! - the RC branch settles at I·R_1·g(s)·asinh(b x)/(b x): charge transfer bends (Butler–Volmer with equal
//!   coefficients, η = 2RT/F · asinh(I / 2I_0); textbook). b = 0 is the straight line
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

use super::open_circuit::{Curve, STEPS};
use super::params::Chemistry;
use crate::input_error::InputError;
use crate::input_range::{InputRange, Kind};
use crate::units::{MassDensity, Ratio, TemperatureInterval, Time};

/// Temperature at which capacity and resistance are stated, K.
pub(crate) const STATED_AT_K: f64 = 298.15;

/// Least rise of a curve from one tabled point to the next.
const LEAST_STEP_V: f64 = 1e-4;

/// How far an open-circuit curve lies above its chemistry's at `CurveError::AT`, V; straight between.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct CurveError {
    pub(crate) volts: [f64; 6],
}

impl CurveError {
    /// States of charge of the knots: close where curves of one chemistry differ most.
    pub const AT: [f64; 6] = [0.0, 0.1, 0.25, 0.5, 0.75, 1.0];

    /// At a state of charge; beyond 0 and 1 the end value.
    pub(crate) fn at(&self, state_of_charge: f64) -> f64 {
        let after = Self::AT.partition_point(|&knot| knot <= state_of_charge);
        if after == 0 || after == Self::AT.len() {
            return self.volts[after.saturating_sub(1)];
        }
        let (from, to) = (Self::AT[after - 1], Self::AT[after]);
        let into = (state_of_charge - from) / (to - from);
        self.volts[after - 1] + into * (self.volts[after] - self.volts[after - 1])
    }
}

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
    /// How far 1 C moves the rise at low charge up, in state of charge. Default 0; `learn` finds it.
    pub low_charge_shift: Ratio,
    /// b, hours: 1/b is the rate from which charge transfer adds less sag than in proportion. Default 0, straight,
    /// which is cautious above the rate that a resistance was measured at; `learn` finds it.
    pub charge_transfer_bend: Ratio,
    /// How far this cell's open-circuit curve lies above its chemistry's. Default zero; `learn` finds it.
    pub curve_error: CurveError,
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
    /// Heat transfer from that surface. Default 10 W/(m²·K), still air in a bay. Common practice, no source. Cautious:
    /// beside a measured pouch cell it foretells 2.7 times the rise in temperature; kept for that.
    pub heat_transfer: HeatTransfer,
}

impl Default for CellBehaviour {
    fn default() -> Self {
        Self {
            ohmic_share: Ratio::new::<ratio>(0.75),
            time_constant: Time::new::<second>(20.0),
            low_charge_rise: Ratio::new::<ratio>(2.0),
            low_charge_scale: Ratio::new::<ratio>(0.12),
            low_charge_shift: Ratio::new::<ratio>(0.0),
            charge_transfer_bend: Ratio::new::<ratio>(0.0),
            curve_error: CurveError::default(),
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

/// Scales below empty from which the rise goes on straight, so that it stays finite.
const STRAIGHT_BELOW: f64 = 3.0;

/// g: resistance over that of a full cell.
#[inline]
pub(crate) fn low_charge(state_of_charge: f64, rise: f64, scale: f64) -> f64 {
    let below = -state_of_charge / scale;
    let beyond = (below - STRAIGHT_BELOW).max(0.0);
    1.0 + rise * below.min(STRAIGHT_BELOW).exp() * (1.0 + beyond)
}

impl CellBehaviour {
    /// 0.05 to 1.
    pub const OHMIC_SHARE: InputRange = InputRange::new("ohmic_share", Kind::Share, 0.05, 1.0);
    /// 0.1 s to 10 min.
    pub const TIME_CONSTANT: InputRange = InputRange::new("time_constant", Kind::Duration, 0.1, 600.0);
    /// 0 to 100: learned from slow runs it stands for the last percents of charge alone.
    pub const LOW_CHARGE_RISE: InputRange = InputRange::new("low_charge_rise", Kind::Number, 0.0, 100.0);
    /// 0.005 to 1.
    pub const LOW_CHARGE_SCALE: InputRange = InputRange::new("low_charge_scale", Kind::Share, 0.005, 1.0);
    /// 0 to 1 for each C.
    pub const LOW_CHARGE_SHIFT: InputRange = InputRange::new("low_charge_shift", Kind::Share, 0.0, 1.0);
    /// 0 to 100 h.
    pub const CHARGE_TRANSFER_BEND: InputRange =
        InputRange::new("charge_transfer_bend", Kind::Number, 0.0, 100.0);
    /// −1 to 1 V: the empty end of a curve is steep.
    pub const CURVE_ERROR: InputRange = InputRange::new("curve_error", Kind::Potential, -1.0, 1.0);
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
        Self::LOW_CHARGE_SHIFT.check(self.low_charge_shift.value)?;
        Self::CHARGE_TRANSFER_BEND.check(self.charge_transfer_bend.value)?;
        for knot in self.curve_error.volts {
            Self::CURVE_ERROR.check(knot)?;
        }
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
        low_charge(state_of_charge, self.low_charge_rise.value, self.low_charge_scale.value)
    }

    /// Share of the current that the RC branch settles by; `rate` in capacities an hour.
    #[inline]
    pub(crate) fn bent(bend_h: f64, rate: f64) -> f64 {
        let x = bend_h * rate;
        if x.abs() < 1e-6 { 1.0 } else { x.asinh() / x }
    }

    /// A chemistry's curve with this cell's error; kept rising, by lowering what lies below.
    pub(crate) fn curve_of(&self, chemistry: Chemistry) -> Curve {
        let mut curve = *chemistry.curve();
        if self.curve_error == CurveError::default() {
            return curve;
        }
        let mut above = f64::INFINITY;
        for (index, volts) in curve.iter_mut().enumerate().rev() {
            *volts = (*volts + self.curve_error.at(index as f64 / STEPS)).min(above - LEAST_STEP_V);
            above = *volts;
        }
        curve
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
