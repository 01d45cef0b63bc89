//! A unit learned from a table that was measured with another rotor than the one that is flown.
//!
//! Formula   C_T, C_P as measured, the diameter as flown; the speed at which C_P holds goes with 1/D (equal tip speed); greatest
//!           thrust claimed at most the measured one, of a smaller rotor that times (D/D₀)⁴
//! Units     SI; spreads as shares, one standard deviation of the logarithm
//! Source    similarity of rotors of one shape; the spreads are those of measured rotors of such a diameter and pitch (`estimate`)
//! Valid     as `estimate`
//! Checked?  prop_another_rotor_is_never_better_known, val_similar_rotor_scales_by_the_fourth_power
//! Assumes   the other rotor is of any make: how far it is off is what any rotor of the class may be off

use uom::si::ratio::ratio;

use super::estimate::typical;
use crate::input_error::InputError;
use crate::propulsion::params::{Declared, Evidence, OtherRotor, PropulsionUnit};
use crate::units::{Length, Ratio};

/// Rotors whose diameters differ by less are the same: makers round to a tenth of an inch.
const SAME: f64 = 0.005;

/// Whether a table measured with one rotor tells of the other only by similarity.
pub fn is_another_rotor(measured: Length, flown: Length) -> bool {
    !((flown / measured).value - 1.0).abs().lt(&SAME)
}

/// The unit of a table on the rotor that is flown; the same where the rotor is the same.
///
/// # Errors
/// As `estimate`: a pitch or diameter that no class covers.
pub fn on_another_rotor(unit: &PropulsionUnit, declared: &Declared) -> Result<PropulsionUnit, InputError> {
    let measured = unit.rotor.diameter;
    let mut flown = *unit;
    flown.rotor.diameter = declared.diameter;
    if !is_another_rotor(measured, declared.diameter) {
        return Ok(flown);
    }
    let doubt = typical(declared)?;
    let scale = (declared.diameter / measured).value;
    flown.rotor.reference_speed = unit.rotor.reference_speed / scale;
    flown.rotor.pitch_inflow = declared.pitch_inflow(unit.rotor.thrust_coefficient);
    if let Evidence::Bench { greatest_thrust, other_rotor, .. } = &mut flown.evidence {
        *greatest_thrust *= scale.powi(4).min(1.0);
        *other_rotor = Some(OtherRotor {
            measured,
            thrust_spread: Ratio::new::<ratio>(doubt.thrust_spread),
            shaft_power_spread: Ratio::new::<ratio>(doubt.shaft_power_spread),
        });
    }
    Ok(flown)
}
