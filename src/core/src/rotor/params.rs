//! What is known of a rotor, and the air's motion it works in.

use crate::bound::{Bound, Kind};
use crate::units::{AngularVelocity, Length, Ratio, Velocity};

/// A rotor by its static coefficients: T = C_T ρ n² D⁴, P = C_P ρ n³ D⁵ with n in revolutions per second.
///
/// C_P may carry a weak power of speed, C_P(n) = C_P (n / n_ref)^e, because the figure of merit of measured
/// propellers rises with speed (Reynolds number); e = 0 means none.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RotorParams {
    /// Diameter D.
    pub diameter: Length,
    /// Static thrust coefficient C_T.
    pub thrust_coefficient: Ratio,
    /// Static power coefficient C_P at `reference_speed`.
    pub power_coefficient: Ratio,
    /// Speed at which `power_coefficient` holds.
    pub reference_speed: AngularVelocity,
    /// Exponent e, usually −0.25 to 0.
    pub power_speed_exponent: Ratio,
}

impl RotorParams {
    /// Small test propellers to the largest camera lifters.
    pub const DIAMETER: Bound = Bound::new("rotor_diameter", Kind::PartLength, 0.05, 2.0);
    /// Published static data of propellers and rotors lie well inside (UIUC database, from memory).
    pub const THRUST_COEFFICIENT: Bound = Bound::new("thrust_coefficient", Kind::Number, 0.01, 0.3);
    /// As above.
    pub const POWER_COEFFICIENT: Bound = Bound::new("power_coefficient", Kind::Number, 0.002, 0.3);
    /// As above.
    pub const POWER_SPEED_EXPONENT: Bound = Bound::new("power_speed_exponent", Kind::Number, -0.5, 0.3);
}

/// Motion of the air against a rotor disc, beyond what the rotor itself induces.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Flow {
    /// Along the thrust axis, positive when climbing (air comes down through the disc).
    pub axial: Velocity,
    /// In the plane of the disc.
    pub edgewise: Velocity,
}
