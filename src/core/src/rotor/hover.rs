//! A rotor in hover by its static coefficients.
//!
//! n = sqrt(T / (C_T ρ D⁴)), P = C_P (n / n_ref)^e ρ n³ D⁵, v_h = sqrt(T / 2ρA), figure of merit = T v_h / P
//! (= sqrt(2/π) C_T^1.5 / C_P where e = 0). SI. Source: definitions of the propeller coefficients; Leishman chapter 2,
//! from memory, for v_h and the figure of merit. Assumes still air and no ground below.

use core::f64::consts::TAU;

use uom::si::angular_velocity::radian_per_second;
use uom::si::power::watt;
use uom::si::pressure::pascal;
use uom::si::ratio::ratio;
use uom::si::velocity::meter_per_second;

use crate::input_error::InputError;
use crate::rotor::kernel::RotorKernel;
use crate::rotor::params::RotorParams;
use crate::units::{AngularVelocity, Force, MassDensity, Power, Pressure, Ratio, Velocity};

/// A rotor in hover.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RotorHover {
    /// Rotor speed ω.
    pub speed: AngularVelocity,
    /// Shaft power P.
    pub shaft_power: Power,
    /// Induced velocity v_h.
    pub induced_velocity: Velocity,
    /// Ideal induced power T v_h.
    pub ideal_induced_power: Power,
    /// Ideal over actual power.
    pub figure_of_merit: Ratio,
    /// Disk loading T / A.
    pub disk_loading: Pressure,
}

/// The rotor in hover at a thrust: see the module. Thrust must be above zero for a figure of merit to exist.
///
/// # Errors
/// `InputError::OutOfRange` for a parameter, thrust or density outside its bound, and for coefficients that give a
/// figure of merit above 1.
pub fn hover(rotor: &RotorParams, air_density: MassDensity, thrust: Force) -> Result<RotorHover, InputError> {
    let kernel = RotorKernel::new(rotor)?;
    let density_kg_m3 = RotorParams::AIR_DENSITY.check(air_density.value)?;
    let thrust_n = RotorParams::THRUST.check(thrust.value)?;
    if thrust_n == 0.0 {
        return Err(InputError::OutOfRange { range: &RotorParams::THRUST, value: thrust_n });
    }
    let rev_s = kernel.static_rev_s(thrust_n, density_kg_m3);
    let shaft_w = kernel.static_power_w(rev_s, density_kg_m3);
    let induced_m_s = (thrust_n / (2.0 * density_kg_m3 * kernel.area_m2())).sqrt();
    let figure_of_merit = RotorParams::FIGURE_OF_MERIT.check(thrust_n * induced_m_s / shaft_w)?;
    Ok(RotorHover {
        speed: AngularVelocity::new::<radian_per_second>(TAU * rev_s),
        shaft_power: Power::new::<watt>(shaft_w),
        induced_velocity: Velocity::new::<meter_per_second>(induced_m_s),
        ideal_induced_power: Power::new::<watt>(thrust_n * induced_m_s),
        figure_of_merit: Ratio::new::<ratio>(figure_of_merit),
        disk_loading: Pressure::new::<pascal>(thrust_n / kernel.area_m2()),
    })
}
