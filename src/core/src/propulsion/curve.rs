//! Thrust against bus power and duty at one bus voltage, for a plot.
//!
//! Static thrust in equal steps up to the ceiling. Units: SI. Equations: `operate`, `ceiling`.

use crate::input_error::InputError;
use crate::propulsion::operate::UnitKernel;
use crate::propulsion::params::{OperatingPoint, PropulsionUnit};
use crate::rotor::{Flow, Neighbour};
use crate::units::{ElectricPotential, MassDensity, Ratio};

/// One point of the curve.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CurvePoint {
    /// The unit there.
    pub point: OperatingPoint,
    /// Duty at the curve's bus voltage.
    pub duty: Ratio,
}

/// `points` points of equal thrust steps; the last is the ceiling.
///
/// # Errors
/// As `ceiling`.
pub fn curve(
    unit: &PropulsionUnit,
    air_density: MassDensity,
    bus_voltage: ElectricPotential,
    points: usize,
) -> Result<Vec<CurvePoint>, InputError> {
    let kernel = UnitKernel::new(unit, air_density, &Flow::still())?;
    let most_n = kernel.ceiling(bus_voltage, Neighbour::None, None)?.point.thrust.value;
    (1..=points)
        .map(|k| {
            let point = kernel.point(most_n * k as f64 / points as f64, Neighbour::None)?;
            Ok(CurvePoint { point, duty: point.duty(bus_voltage) })
        })
        .collect()
}
