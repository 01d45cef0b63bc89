//! Induced velocity of a rotor by momentum theory, and by a fit to measurements where momentum theory fails.
//!
//! With v_h = sqrt(T / 2ρA), x = edgewise speed / v_h, c = axial speed / v_h (climb positive):
//! - climb and forward flight (Glauert): v/v_h = 1 / sqrt(x² + (c + v/v_h)²);
//! - vertical descent, −2 ≤ c < 0: v/v_h = 1 − 1.125c − 1.372c² − 1.718c³ − 0.655c⁴;
//! - windmill state, c < −2: Glauert's equation again, its smaller root.
//!
//! Source: Leishman, Principles of Helicopter Aerodynamics, chapter 2 (from memory). Assumes a uniformly loaded disc.
//! Between vertical descent and descent at x ≥ 1 the two are bridged by a smooth step in x: our own, no source.

use uom::si::velocity::meter_per_second;

use crate::input_error::InputError;
use crate::rotor::params::{Flow, RotorParams};
use crate::units::{Force, Length, MassDensity, Velocity};

/// Induced velocity in hover, v_h = sqrt(T / 2ρA).
///
/// # Errors
/// `InputError::OutOfRange` for diameter, air density or thrust outside their bounds.
pub fn hover_induced_velocity(
    diameter: Length,
    air_density: MassDensity,
    thrust: Force,
) -> Result<Velocity, InputError> {
    let area_m2 = core::f64::consts::PI * RotorParams::DIAMETER.check(diameter.value)?.powi(2) / 4.0;
    let density_kg_m3 = RotorParams::AIR_DENSITY.check(air_density.value)?;
    let thrust_n = RotorParams::THRUST.check(thrust.value)?;
    Ok(Velocity::new::<meter_per_second>((thrust_n / (2.0 * density_kg_m3 * area_m2)).sqrt()))
}

/// Induced velocity at any axial and edgewise flow: see the module.
///
/// # Errors
/// As `hover_induced_velocity`, and for a flow outside its bounds.
pub fn induced_velocity(
    diameter: Length,
    air_density: MassDensity,
    thrust: Force,
    flow: &Flow,
) -> Result<Velocity, InputError> {
    let hover = hover_induced_velocity(diameter, air_density, thrust)?;
    let axial_m_s = Flow::AXIAL.check(flow.axial.value)?;
    let edgewise_m_s = Flow::EDGEWISE.check(flow.edgewise.value)?;
    if hover.value <= 0.0 {
        return Ok(hover);
    }
    Ok(hover * induced_ratio(axial_m_s / hover.value, edgewise_m_s.abs() / hover.value))
}

/// v/v_h at c = `axial` and x = `edgewise`, both over v_h.
pub(super) fn induced_ratio(axial: f64, edgewise: f64) -> f64 {
    if !(-2.0..0.0).contains(&axial) || edgewise >= 1.0 {
        return glauert(axial, edgewise);
    }
    let level = glauert(0.0, edgewise);
    let step = edgewise * edgewise * (3.0 - 2.0 * edgewise);
    let skewed = glauert(axial, 1.0) / glauert(0.0, 1.0);
    level * ((1.0 - step) * vertical_descent(axial) + step * skewed)
}

/// The measured-data fit for −2 ≤ c < 0 in vertical flight.
fn vertical_descent(axial: f64) -> f64 {
    1.0 + axial * (-1.125 + axial * (-1.372 + axial * (-1.718 + axial * -0.655)))
}

/// The root of v sqrt(x² + (c + v)²) = 1 in 0..1 by Newton steps kept inside a shrinking bracket.
///
/// For c ≥ 0, for c ≤ −2, and for x ≥ 1 the left side rises over 0..1 from 0 to at least 1, so there is one root.
fn glauert(axial: f64, edgewise: f64) -> f64 {
    if edgewise == 0.0 && axial >= 0.0 {
        // Closed form, written so that it does not cancel at great speed.
        return 2.0 / (axial + (axial * axial + 4.0).sqrt());
    }
    let (mut low, mut high) = (0.0, 1.0);
    // Ratios of a few units: nothing here overflows, and `hypot` would take a third of the time.
    let length = |along: f64| (edgewise * edgewise + along * along).sqrt();
    let mut v = 1.0 / (1.0 + length(axial));
    for _ in 0..60 {
        let through = axial + v;
        let resultant = length(through);
        let excess = v * resultant - 1.0;
        if excess > 0.0 {
            high = v;
        } else {
            low = v;
        }
        let slope = resultant + v * through / resultant;
        let newton = v - excess / slope;
        let next = if newton > low && newton < high { newton } else { 0.5 * (low + high) };
        if (next - v).abs() <= 1e-13 * v {
            return next;
        }
        v = next;
    }
    v
}
