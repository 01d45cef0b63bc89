//! The lower rotor of a coaxial pair in the upper rotor's wake.
//!
//! The upper rotor works as if alone: T_u = 2ρA(V + v_u) v_u. Its wake meets the lower disc with the area share a of a
//! disc (hover) and the speed U = V + v_u / a. With M the mean flow through the lower disc and W the far wake's speed,
//! momentum and energy between the lower disc's inflow and the far wake give
//! - T_l = ρA [M W − (V + v_u) U − (M − V − v_u) V],
//! - T_l M = ½ρA [M W² − (V + v_u) U² − (M − V − v_u) V²],
//!
//! which is a quadratic in M, and the lower rotor's ideal power is T_l M. For a = ½ (fully contracted), V = 0 and equal
//! thrusts it is the textbook pair: total induced power 1.2808 times that of two rotors alone (Leishman, chapter 2,
//! from memory; value computed independently).
//!
//! Assumes the lower rotor does not act on the upper, ambient pressure where the wake meets the lower disc, no swirl
//! recovered. Uncertainty: measured pairs are said to lose less (about 1.16 in all, from memory, unconfirmed), so the default
//! a = ½ is the cautious end; at no spacing at all the bound is √2, which one-way theory cannot show. In descent and
//! in forward flight the lower rotor's factor of hover or of the same climb is kept: cautious, no source.

use uom::si::power::watt;
use uom::si::ratio::ratio;
use uom::si::velocity::meter_per_second;

use crate::input_error::InputError;
use crate::input_range::{InputRange, Kind};
use crate::rotor::induced::hover_induced_velocity;
use crate::rotor::kernel::Wake;
use crate::units::{Force, Length, MassDensity, Power, Ratio, Velocity};

/// What is known of a coaxial pair.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CoaxialParams {
    /// Area of the upper rotor's wake where it meets the lower disc, over the disc area.
    pub wake_contraction: Ratio,
}

impl CoaxialParams {
    /// Half (fully contracted) to one (not contracted).
    pub const WAKE_CONTRACTION: InputRange = InputRange::new("wake_contraction", Kind::Share, 0.5, 1.0);
}

impl Default for CoaxialParams {
    /// Fully contracted: the cautious end, see the module.
    fn default() -> Self {
        Self { wake_contraction: Ratio::new::<ratio>(0.5) }
    }
}

/// A coaxial pair in hover by momentum theory.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CoaxialInduced {
    /// Induced velocity of the upper rotor.
    pub upper_velocity: Velocity,
    /// Mean flow through the lower disc: its own induced velocity and the upper's wake.
    pub lower_flow: Velocity,
    /// Ideal power of the upper rotor.
    pub upper_power: Power,
    /// Ideal power of the lower rotor.
    pub lower_power: Power,
}

/// Ideal induced power of a pair in hover.
///
/// # Errors
/// `InputError::OutOfRange` for an input outside its bound.
pub fn coaxial_induced(
    params: &CoaxialParams,
    diameter: Length,
    air_density: MassDensity,
    upper_thrust: Force,
    lower_thrust: Force,
) -> Result<CoaxialInduced, InputError> {
    let upper = hover_induced_velocity(diameter, air_density, upper_thrust)?;
    let alone = hover_induced_velocity(diameter, air_density, lower_thrust)?;
    let wake = Wake { upper_thrust_n: upper_thrust.value, contraction: contraction(*params)? };
    let area_m2 = core::f64::consts::PI * diameter.value.powi(2) / 4.0;
    let lower_m_s = if lower_thrust.value > 0.0 {
        alone.value * lower_factor(wake, lower_thrust.value, air_density.value * area_m2, 0.0)
    } else {
        upper.value
    };
    Ok(CoaxialInduced {
        upper_velocity: upper,
        lower_flow: Velocity::new::<meter_per_second>(lower_m_s),
        upper_power: Power::new::<watt>(upper_thrust.value * upper.value),
        lower_power: Power::new::<watt>(lower_thrust.value * lower_m_s),
    })
}

/// The checked wake contraction.
pub(crate) fn contraction(params: CoaxialParams) -> Result<f64, InputError> {
    CoaxialParams::WAKE_CONTRACTION.check(params.wake_contraction.value)
}

/// Flow through the lower disc beyond the climb, over the induced velocity it would have alone in the same climb.
pub(super) fn lower_factor(wake: Wake, lower_thrust_n: f64, density_area: f64, axial_m_s: f64) -> f64 {
    let climb = axial_m_s.max(0.0);
    let upper_load = wake.upper_thrust_n.max(0.0) / density_area;
    let load = lower_thrust_n / density_area;
    let upper_induced = 0.5 * ((climb * climb + 2.0 * upper_load).sqrt() - climb);
    let alone = 0.5 * ((climb * climb + 2.0 * load).sqrt() - climb);
    let flux = climb + upper_induced;
    let wake_speed = climb + upper_induced / wake.contraction;
    let momentum = load + flux * (wake_speed - climb);
    let linear = momentum * climb - 0.5 * flux * (wake_speed * wake_speed - climb * climb);
    // The quadratic load·M² − linear·M − ½ momentum² = 0 has one positive root; this form of it does not cancel
    // when `linear` is negative, as it is but for fast climbs.
    let discriminant = (linear * linear + 2.0 * load * momentum * momentum).sqrt();
    let through = if linear < 0.0 {
        momentum * momentum / (discriminant - linear)
    } else {
        (linear + discriminant) / (2.0 * load)
    };
    (through - climb) / alone
}
