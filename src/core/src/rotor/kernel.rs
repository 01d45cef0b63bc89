//! The rotor's equations in plain SI, shared by hover, flow, coaxial pairs and the electrical chain.
//!
//! T = C_T ρ n² D⁴ and P = C_P (ρ n / (1.225 kg/m³ n_ref))^e ρ n³ D⁵ hold in still air: what changes C_P is the Reynolds number
//! (viscosity taken as constant), which falls in thin air though the rotor turns faster. With a flow the static power is split into
//! κ T v_h (induced) and the rest (profile): κ = 1.15, but never more than 0.85 of the whole nor below 1, so at hover
//! the sum is the static power exactly. Then P = κ T v_i + T V_axial + P_profile (ω/ω_h)³ (1 + 4.65 μ²).
//!
//! The speed at equal thrust rises with the flow through the disc and falls with edgewise flow: a blade with ideal twist gives
//! T ~ ω² θ R (1 + 1.5 μ²) − ω u (blade-element theory, Leishman chapter 3 and 5, from memory), u the whole flow through the
//! disc; with g the pitch inflow over the hover inflow it is g ŵ² − û ŵ = g − 1 − 1.5 g μ_h², ŵ = ω/ω_h, û = u/v_h, μ_h = V/(ω_h R).
//! g: `RotorParams::pitch_inflow`. Measured propellers (324 runs, see there): speed within 3 %, power 5 to 7 % high.
//!
//! Sources: κ = 1.15 and 4.65 from Leishman, chapters 2 and 5, from memory; the 0.85 is common practice, no source.
//! Valid: |μ| < 0.5 (thrust gain checked to 0.2, held beyond), axial speed above −1.5 v_h.

use core::f64::consts::{PI, TAU};

use crate::input_error::InputError;
use crate::rotor::coaxial::{Interference, Pair, PairSpacing};
use crate::rotor::induced::induced_ratio;
use crate::rotor::params::{Flow, RotorParams};

const INDUCED_FACTOR: f64 = 1.15;
const GREATEST_INDUCED_SHARE: f64 = 0.85;
const PROFILE_GROWTH: f64 = 4.65;
/// Above this advance ratio the gain of thrust in edgewise flow is unchecked: it is held there, on the safe side.
const CHECKED_ADVANCE_RATIO: f64 = 0.2;
/// Gain of thrust at equal speed in edgewise flow: 1 + 1.5 μ².
const EDGEWISE_GAIN: f64 = 1.5;

/// Of the standard atmosphere at sea level, in which a rotor's reference speed is given.
pub(crate) const REFERENCE_DENSITY_KG_M3: f64 = 1.225;

/// A rotor with its parameters checked.
#[derive(Debug, Clone, Copy)]
pub(crate) struct RotorKernel {
    diameter_m: f64,
    thrust_coefficient: f64,
    power_coefficient: f64,
    reference_rev_s: f64,
    exponent: f64,
    pitch_inflow: f64,
}

/// What a rotor feels of a coaxial partner.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Neighbour {
    None,
    /// A partner of a known thrust.
    Partner(Partner),
    /// Worked out already.
    Factor(Interference),
}

/// The other rotor of a coaxial pair.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Partner {
    pub thrust_n: f64,
    pub spacing: PairSpacing,
    /// Where the partner is: above this rotor or below it.
    pub is_above: bool,
}

impl Neighbour {
    /// What a rotor of this thrust feels.
    fn interference(self, thrust_n: f64, density_area: f64, axial_m_s: f64) -> Interference {
        match self {
            Self::None => Interference::NONE,
            Self::Factor(factor) => factor,
            Self::Partner(Partner { thrust_n: above_n, spacing, is_above: true }) => {
                let pair = Pair { upper_n: above_n, lower_n: thrust_n, spacing };
                pair.factors(density_area, axial_m_s).lower
            }
            Self::Partner(Partner { thrust_n: below_n, spacing, is_above: false }) => {
                let pair = Pair { upper_n: thrust_n, lower_n: below_n, spacing };
                pair.factors(density_area, axial_m_s).upper
            }
        }
    }
}

/// A rotor at work.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Work {
    pub speed_rad_s: f64,
    pub induced_m_s: f64,
    pub induced_w: f64,
    pub profile_w: f64,
    pub climb_w: f64,
    pub figure_of_merit: f64,
    pub advance_ratio: f64,
    pub axial_ratio: f64,
    pub edgewise_ratio: f64,
}

impl Work {
    pub(crate) fn shaft_w(&self) -> f64 {
        self.induced_w + self.profile_w + self.climb_w
    }

    pub(crate) fn torque_n_m(&self) -> f64 {
        if self.speed_rad_s > 0.0 { self.shaft_w() / self.speed_rad_s } else { 0.0 }
    }

    /// Passes through a state that the equations stand for.
    pub(crate) fn checked(self) -> Result<Self, InputError> {
        RotorParams::FIGURE_OF_MERIT.check(self.figure_of_merit)?;
        Flow::AXIAL_RATIO.check(self.axial_ratio)?;
        Flow::ADVANCE_RATIO.check(self.advance_ratio)?;
        RotorParams::SHAFT_POWER.check(self.shaft_w())?;
        Ok(self)
    }
}

impl RotorKernel {
    pub(crate) fn new(rotor: &RotorParams) -> Result<Self, InputError> {
        Ok(Self {
            diameter_m: RotorParams::DIAMETER.check(rotor.diameter.value)?,
            thrust_coefficient: RotorParams::THRUST_COEFFICIENT.check(rotor.thrust_coefficient.value)?,
            power_coefficient: RotorParams::POWER_COEFFICIENT.check(rotor.power_coefficient.value)?,
            reference_rev_s: RotorParams::REFERENCE_SPEED.check(rotor.reference_speed.value)? / TAU,
            exponent: RotorParams::POWER_SPEED_EXPONENT.check(rotor.power_speed_exponent.value)?,
            pitch_inflow: RotorParams::PITCH_INFLOW.check(rotor.pitch_inflow.value)?,
        })
    }

    pub(crate) fn area_m2(&self) -> f64 {
        PI * self.diameter_m * self.diameter_m / 4.0
    }

    /// Greatest static thrust at a rotor speed.
    pub(crate) fn static_thrust_n(&self, speed_rad_s: f64, density_kg_m3: f64) -> f64 {
        self.thrust_coefficient * density_kg_m3 * (speed_rad_s / TAU).powi(2) * self.diameter_m.powi(4)
    }

    pub(crate) fn static_rev_s(&self, thrust_n: f64, density_kg_m3: f64) -> f64 {
        (thrust_n / (self.thrust_coefficient * density_kg_m3)).sqrt() / self.diameter_m.powi(2)
    }

    pub(crate) fn static_power_w(&self, rev_s: f64, density_kg_m3: f64) -> f64 {
        let growth = if self.exponent == 0.0 {
            1.0
        } else {
            let reference = REFERENCE_DENSITY_KG_M3 * self.reference_rev_s;
            (density_kg_m3 * rev_s / reference).powf(self.exponent)
        };
        self.power_coefficient * growth * density_kg_m3 * rev_s.powi(3) * self.diameter_m.powi(5)
    }

    /// The rotor at a thrust in a flow, for any finite input with thrust and density not negative: not yet checked for validity.
    pub(crate) fn work(
        &self,
        thrust_n: f64,
        density_kg_m3: f64,
        axial_m_s: f64,
        edgewise_m_s: f64,
        neighbour: Neighbour,
    ) -> Work {
        if thrust_n <= 0.0 {
            return Work::default();
        }
        let density_area = density_kg_m3 * self.area_m2();
        let hover_m_s = (thrust_n / (2.0 * density_area)).sqrt();
        let rev_s = self.static_rev_s(thrust_n, density_kg_m3);
        let static_w = self.static_power_w(rev_s, density_kg_m3);
        let figure_of_merit = thrust_n * hover_m_s / static_w;
        let kappa = (GREATEST_INDUCED_SHARE / figure_of_merit).clamp(1.0, INDUCED_FACTOR);

        let (axial_ratio, edgewise_ratio) = (axial_m_s / hover_m_s, edgewise_m_s.abs() / hover_m_s);
        let interference = neighbour.interference(thrust_n, density_area, axial_m_s);
        let induced_alone = induced_ratio(axial_ratio, edgewise_ratio);
        let induced_share = induced_alone * interference.power;
        let hover_tip_m_s = PI * rev_s * self.diameter_m;
        let edgewise = (edgewise_m_s.abs() / hover_tip_m_s).min(CHECKED_ADVANCE_RATIO);
        let speed_share =
            speed_ratio(self.pitch_inflow, axial_ratio + induced_alone * interference.speed, edgewise);
        let speed_rad_s = TAU * rev_s * speed_share;
        let advance_ratio = edgewise_m_s.abs() / (speed_rad_s * self.diameter_m / 2.0);
        let profile_hover_w = static_w - kappa * thrust_n * hover_m_s;
        Work {
            speed_rad_s,
            induced_m_s: hover_m_s * induced_share,
            induced_w: kappa * thrust_n * hover_m_s * induced_share,
            profile_w: profile_hover_w
                * speed_share.powi(3)
                * (1.0 + PROFILE_GROWTH * advance_ratio * advance_ratio),
            climb_w: thrust_n * axial_m_s,
            figure_of_merit,
            advance_ratio,
            axial_ratio,
            edgewise_ratio,
        }
    }
}

/// ŵ from g ŵ² − û ŵ = g − 1 − 1.5 g μ_h²; 1 at û = 1 without edgewise flow exactly.
fn speed_ratio(pitch_inflow: f64, through_ratio: f64, hover_advance_ratio: f64) -> f64 {
    if (through_ratio - 1.0).abs() < 1e-15 && hover_advance_ratio == 0.0 {
        return 1.0;
    }
    let gain = EDGEWISE_GAIN * pitch_inflow * hover_advance_ratio * hover_advance_ratio;
    let root = (through_ratio * through_ratio + 4.0 * pitch_inflow * (pitch_inflow - 1.0 - gain)).sqrt();
    (through_ratio + root) / (2.0 * pitch_inflow)
}
