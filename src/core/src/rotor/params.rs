//! What is known of a rotor, and the air's motion it works in.

use uom::si::ratio::ratio;
use uom::si::velocity::meter_per_second;

use crate::input_range::{InputRange, Kind};
use crate::units::{Angle, AngularVelocity, Length, Ratio, Velocity};

/// A rotor by its static coefficients: T = C_T ρ n² D⁴, P = C_P ρ n³ D⁵ with n in revolutions per second.
///
/// C_P may carry a weak power of speed times density, C_P(n) = C_P (ρ n / (1.225 kg/m³ n_ref))^e, because the figure of merit of
/// measured propellers rises with the Reynolds number; e = 0 means none.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RotorParams {
    /// Diameter D.
    pub diameter: Length,
    /// Static thrust coefficient C_T.
    pub thrust_coefficient: Ratio,
    /// Static power coefficient C_P at `reference_speed`.
    pub power_coefficient: Ratio,
    /// Speed at which `power_coefficient` holds in air of 1.225 kg/m³.
    pub reference_speed: AngularVelocity,
    /// Exponent e, usually −0.25 to 0.
    pub power_speed_exponent: Ratio,
    /// Inflow at which the blade's pitch would give no thrust, over the hover inflow: `pitch_inflow` tells it.
    pub pitch_inflow: Ratio,
}

/// J₀ beyond p/D: 324 runs of 69 two-bladed propellers of 9 to 16 inches, p/D 0.3 to 0.6, ±0.05 (UIUC Propeller Database, volumes 1
/// to 3, aggregated; in-sample).
const ZERO_THRUST_BEYOND_PITCH: f64 = 0.13;

impl RotorParams {
    /// Small test propellers to the largest camera lifters.
    pub const DIAMETER: InputRange = InputRange::new("rotor_diameter", Kind::PartLength, 0.05, 2.0);
    /// Published static data of propellers and rotors lie well inside (UIUC database, from memory).
    pub const THRUST_COEFFICIENT: InputRange = InputRange::new("thrust_coefficient", Kind::Number, 0.01, 0.3);
    /// As above.
    pub const POWER_COEFFICIENT: InputRange = InputRange::new("power_coefficient", Kind::Number, 0.002, 0.3);
    /// As above.
    pub const POWER_SPEED_EXPONENT: InputRange =
        InputRange::new("power_speed_exponent", Kind::Number, -0.5, 0.3);
    /// Speed at which the power coefficient holds: 1 to 10,000 rad/s.
    pub const REFERENCE_SPEED: InputRange =
        InputRange::new("reference_speed", Kind::RotationalSpeed, 1.0, 10_000.0);
    /// Two to three, what the runs behind it cover.
    pub const PITCH_INFLOW: InputRange = InputRange::new("pitch_inflow", Kind::Number, 2.0, 3.0);
    /// Ideal over actual hover power: above 1 the coefficients break momentum theory.
    pub const FIGURE_OF_MERIT: InputRange = InputRange::new("figure_of_merit", Kind::Share, 0.0, 1.0);
    /// Thrust of one rotor.
    pub const THRUST: InputRange = InputRange::new("rotor_thrust", Kind::Force, 0.0, 5000.0);
    /// Shaft power: below zero the air drives the rotor, which a motor's circuit here does not cover.
    pub const SHAFT_POWER: InputRange = InputRange::new("shaft_power", Kind::Power, 0.0, 1e9);
    /// Air density at the rotor: thinner than at 6,000 m on a hot day to denser than at −40 °C below sea level.
    pub const AIR_DENSITY: InputRange = InputRange::new("air_density", Kind::Density, 0.4, 1.8);
}

impl RotorParams {
    /// Where the pitch is not known: the usual lifting rotor's.
    pub fn usual_pitch_inflow() -> Ratio {
        Ratio::new::<ratio>(2.3)
    }

    /// Pitch inflow over hover inflow, g = J₀ / √(2 C_T / π) with the advance ratio of no thrust J₀ = p/D + 0.13, held inside
    /// what was measured: `PITCH_INFLOW`. Low values are the cautious end.
    pub fn pitch_inflow(pitch_over_diameter: Ratio, thrust_coefficient: Ratio) -> Ratio {
        let hover_inflow = (2.0 * thrust_coefficient.value / core::f64::consts::PI).sqrt();
        let inflow = (pitch_over_diameter.value + ZERO_THRUST_BEYOND_PITCH) / hover_inflow;
        Ratio::new::<ratio>(if inflow.is_finite() {
            inflow.clamp(Self::PITCH_INFLOW.min, Self::PITCH_INFLOW.max)
        } else {
            Self::PITCH_INFLOW.min
        })
    }
}

/// Motion of the air against a rotor disc, beyond what the rotor itself induces.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Flow {
    /// Along the thrust axis, positive when climbing (air comes down through the disc).
    pub axial: Velocity,
    /// In the plane of the disc.
    pub edgewise: Velocity,
}

impl Flow {
    /// Along the thrust axis: −30 to 60 m/s.
    pub const AXIAL: InputRange = InputRange::new("axial_speed", Kind::Speed, -30.0, 60.0);
    /// In the disc plane; the sense does not matter.
    pub const EDGEWISE: InputRange = InputRange::new("edgewise_speed", Kind::Speed, -80.0, 80.0);
    /// Axial speed over hover induced velocity: below −1.5 the rotor is in turbulent wake or windmilling, where
    /// no lifting aircraft belongs and the fit says little.
    pub const AXIAL_RATIO: InputRange =
        InputRange::new("axial_speed_over_hover_induced_velocity", Kind::Number, -1.5, 1e9);
    /// Edgewise speed over tip speed; above 1 the whole retreating side is in reverse flow.
    pub const ADVANCE_RATIO: InputRange = InputRange::new("advance_ratio", Kind::Number, 0.0, 1.0);

    /// No motion but what the rotor itself induces.
    pub fn still() -> Self {
        Self {
            axial: Velocity::new::<meter_per_second>(0.0),
            edgewise: Velocity::new::<meter_per_second>(0.0),
        }
    }

    /// Axial motion only, positive when climbing.
    pub fn climb(rate: Velocity) -> Self {
        Self { axial: rate, ..Self::still() }
    }

    /// Air at `speed` meeting a disc tilted nose-down by `tilt` against it: V sin α through, V cos α along.
    pub fn forward(speed: Velocity, tilt: Angle) -> Self {
        Self { axial: speed * tilt.sin(), edgewise: speed * tilt.cos() }
    }
}
