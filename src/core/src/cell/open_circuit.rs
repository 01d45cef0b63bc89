//! Open-circuit voltage against state of charge, and its inverse.
//!
//! Formula: linear between tabled points at every 2 % of charge, which keeps it monotone and exactly invertible;
//! beyond 0 and 1 the end slope goes on (a string in parallel may be charged a little by its neighbour).
//! Units: V per cell. Source: see `curves`. Valid at 25 °C at rest; hysteresis and the entropic slope
//! (below 0.5 mV/K) are left out.

use uom::si::electric_potential::volt;
use uom::si::ratio::ratio;

use super::curves::{self, CURVE_POINTS};
use super::params::Chemistry;
use crate::input_error::InputError;
use crate::input_range::{InputRange, Kind};
use crate::units::{ElectricPotential, Ratio};

/// Volts at equal steps of charge from empty to full.
pub(crate) type Curve = [f64; CURVE_POINTS];

const LAST_STEP: usize = CURVE_POINTS - 2;
/// Steps of charge in a curve.
pub(crate) const STEPS: f64 = (CURVE_POINTS - 1) as f64;

/// Place of a state of charge in a curve: the step, and how far into it (beyond 0..1 outside the curve).
pub(crate) fn place(state_of_charge: f64) -> (usize, f64) {
    let at = state_of_charge * STEPS;
    let step = (at.max(0.0) as usize).min(LAST_STEP);
    (step, at - step as f64)
}

/// Value of a curve at a place.
pub(crate) fn value(curve: &Curve, (step, into): (usize, f64)) -> f64 {
    let from = curve[step];
    from + (curve[step + 1] - from) * into
}

/// Inverse of a rising curve.
pub(crate) fn inverse(curve: &Curve, voltage_v: f64) -> f64 {
    let step = curve.partition_point(|&v| v <= voltage_v).saturating_sub(1).min(LAST_STEP);
    let (from, to) = (curve[step], curve[step + 1]);
    (step as f64 + (voltage_v - from) / (to - from)) / STEPS
}

impl Chemistry {
    /// Rest voltage of one lithium polymer cell: empty to full, and 20 mV for the voltmeter.
    pub const REST_VOLTAGE_POLYMER: InputRange = InputRange::new("rest_voltage", Kind::Potential, 3.0, 4.22);
    /// The same, high-voltage lithium polymer.
    pub const REST_VOLTAGE_HIGH_VOLTAGE: InputRange =
        InputRange::new("rest_voltage", Kind::Potential, 3.0, 4.37);
    /// The same, lithium-ion cylindrical.
    pub const REST_VOLTAGE_CYLINDRICAL: InputRange =
        InputRange::new("rest_voltage", Kind::Potential, 2.5, 4.22);

    pub(crate) fn curve(self) -> &'static Curve {
        match self {
            Self::LithiumPolymer => &curves::LITHIUM_POLYMER,
            Self::LithiumPolymerHighVoltage => &curves::LITHIUM_POLYMER_HIGH_VOLTAGE,
            Self::LithiumIonCylindrical => &curves::LITHIUM_ION_CYLINDRICAL,
        }
    }

    /// Range of the rest voltage of one cell.
    pub fn rest_voltage_bound(self) -> &'static InputRange {
        match self {
            Self::LithiumPolymer => &Self::REST_VOLTAGE_POLYMER,
            Self::LithiumPolymerHighVoltage => &Self::REST_VOLTAGE_HIGH_VOLTAGE,
            Self::LithiumIonCylindrical => &Self::REST_VOLTAGE_CYLINDRICAL,
        }
    }

    /// Rest voltage of a full cell.
    pub fn full_voltage(self) -> ElectricPotential {
        ElectricPotential::new::<volt>(self.curve()[CURVE_POINTS - 1])
    }

    /// Where the open-circuit curve comes from.
    pub fn curve_source(self) -> &'static str {
        match self {
            Self::LithiumPolymer => {
                "Ai et al. 2020, J. Electrochem. Soc. 167 013512: 25 °C, computed from its parameters"
            }
            Self::LithiumPolymerHighVoltage => {
                "common practice, no source: the Ai et al. 2020 curve, carried on to 4.35 V"
            }
            Self::LithiumIonCylindrical => {
                "Chen et al. 2020, J. Electrochem. Soc. 167 080534: 25 °C, computed from its parameters"
            }
        }
    }
}

/// Open-circuit voltage of one cell at 25 °C.
///
/// # Errors
/// `InputError::OutOfRange` unless the state of charge lies in 0 to 1.
pub fn open_circuit_voltage(
    chemistry: Chemistry,
    state_of_charge: Ratio,
) -> Result<ElectricPotential, InputError> {
    static STATE_OF_CHARGE: InputRange = InputRange::new("state_of_charge", Kind::Share, 0.0, 1.0);
    let share = STATE_OF_CHARGE.check(state_of_charge.value)?;
    Ok(ElectricPotential::new::<volt>(value(chemistry.curve(), place(share))))
}

/// State of charge of one cell from its rest voltage; up to 20 mV above full counts as full (voltmeter error).
///
/// # Errors
/// `InputError::OutOfRange` outside the chemistry's range.
pub fn state_of_charge_at_rest(
    chemistry: Chemistry,
    rest_voltage: ElectricPotential,
) -> Result<Ratio, InputError> {
    let rest_v = chemistry.rest_voltage_bound().check(rest_voltage.value)?;
    Ok(Ratio::new::<ratio>(inverse(chemistry.curve(), rest_v).min(1.0)))
}
