//! A coaxial pair: each rotor in the flow that the other makes.
//!
//! Formula   h spacing, R radius, V climb, F and M the flow through the upper and the lower disc, T = T_u + T_l:
//!           s = h/√(h² + R²), b = 1 − s^(2/3), g = b T_l/(2ρA M), F = ½[(V + g) + √((V + g)² + 2T_u/(ρA))],
//!           T_l M² + (T_u F − T V) M − T²/(2ρA) = 0, repeated until g stands; a rotor's factor is (F − V) or (M − V) over the
//!           induced velocity it would have alone in the same climb. The speed at a thrust follows another flow: half of what the
//!           lower draws through the upper, F_s = ½(F + F alone), and all of that above the lower's own,
//!           M_s = ½[F_s + √(F_s² + 2T_l/(ρA))]
//! Units     SI
//! Source    balances of momentum and energy over the pair, our own; b is the disc mean of a vortex cylinder's velocity upstream
//!           (the exponent fitted to the integral, within 0.03). Limits: √2 of two rotors alone at no spacing (exact: one disc with
//!           twice the thrust), 1.2808 far apart (Leishman, chapter 2, from memory; value computed independently)
//!           F_s, M_s: momentum of the lower in the upper's whole stream, our own; the half is chosen on the 28-inch pair
//! Valid     hover and climb. Measured: a 28-inch pair at h/R 0.32 within 3 % of total shaft power (tests/references/rotor28; the law
//!           was chosen on these rows: in-sample); an 18-inch pair 1.20 to 1.40 of two alone (one figure, its spread is ±5 %). At equal speed the 28-inch pair gives
//!           0.96 to 1.00 and 0.59 to 0.66 of the lone thrusts, here 0.96 and 0.64 (in-sample)
//! Assumes   no swirl recovered; in descent and forward flight the factors of hover, or of the same climb, are kept: cautious

use uom::si::power::watt;
use uom::si::velocity::meter_per_second;

use crate::input_error::InputError;
use crate::input_range::{InputRange, Kind};
use crate::rotor::induced::hover_induced_velocity;
use crate::units::{Force, Length, MassDensity, Power, Velocity};

/// What is known of a coaxial pair.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CoaxialParams {
    /// From the upper disc down to the lower one.
    pub spacing: Length,
}

impl CoaxialParams {
    /// One disc in the other to wide apart.
    pub const SPACING: InputRange = InputRange::new("rotor_spacing", Kind::PartLength, 0.0, 6.0);
    /// One standard deviation of the pair's power by this law, beside what is in doubt of a lone rotor: 1.20 to 1.40 measured
    /// where the law says 1.34.
    pub const POWER_SPREAD: f64 = 0.04;
}

/// A coaxial pair in hover by momentum theory.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CoaxialInduced {
    /// Flow through the upper disc: its own induced velocity and what the lower draws.
    pub upper_flow: Velocity,
    /// Flow through the lower disc: its own induced velocity and the upper's wake.
    pub lower_flow: Velocity,
    /// Ideal power of the upper rotor.
    pub upper_power: Power,
    /// Ideal power of the lower rotor.
    pub lower_power: Power,
}

/// Ideal induced power of a pair in hover.
///
/// # Errors
/// `InputError::OutOfRange` for an input outside its range.
pub fn coaxial_induced(
    params: &CoaxialParams,
    diameter: Length,
    air_density: MassDensity,
    upper_thrust: Force,
    lower_thrust: Force,
) -> Result<CoaxialInduced, InputError> {
    let upper_alone = hover_induced_velocity(diameter, air_density, upper_thrust)?;
    let lower_alone = hover_induced_velocity(diameter, air_density, lower_thrust)?;
    let spacing = PairSpacing::new(*params, diameter.value)?;
    let density_area = air_density.value * core::f64::consts::PI * diameter.value.powi(2) / 4.0;
    let pair = Pair { upper_n: upper_thrust.value, lower_n: lower_thrust.value, spacing };
    let factors = pair.factors(density_area, 0.0);
    let [upper_m_s, lower_m_s] =
        [upper_alone.value * factors.upper.power, lower_alone.value * factors.lower.power];
    Ok(CoaxialInduced {
        upper_flow: Velocity::new::<meter_per_second>(upper_m_s),
        lower_flow: Velocity::new::<meter_per_second>(lower_m_s),
        upper_power: Power::new::<watt>(upper_thrust.value * upper_m_s),
        lower_power: Power::new::<watt>(lower_thrust.value * lower_m_s),
    })
}

/// How far apart the discs are, checked.
#[derive(Debug, Clone, Copy)]
pub(crate) struct PairSpacing {
    /// b: what the upper disc feels of the lower one's induced velocity.
    back: f64,
}

impl PairSpacing {
    pub fn new(params: CoaxialParams, diameter_m: f64) -> Result<Self, InputError> {
        let over_radius = CoaxialParams::SPACING.check(params.spacing.value)? / (0.5 * diameter_m);
        let far = over_radius / over_radius.hypot(1.0);
        Ok(Self { back: 1.0 - far.powf(2.0 / 3.0) })
    }
}

/// The loads of a pair.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Pair {
    pub upper_n: f64,
    pub lower_n: f64,
    pub spacing: PairSpacing,
}

/// Flow beyond the climb through a disc over the induced velocity it would have alone.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Interference {
    /// For the power.
    pub power: f64,
    /// For the speed.
    pub speed: f64,
}

impl Interference {
    /// Of a rotor that is alone.
    pub const NONE: Self = Self { power: 1.0, speed: 1.0 };
}

/// What each of a pair feels of the other.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct PairFactors {
    pub upper: Interference,
    pub lower: Interference,
}

/// Plain steps halve the error or better; Steffensen's extrapolation of each two (from memory) makes that quadratic.
const ROUNDS: usize = 6;
/// An extrapolation from so small a step is good to its square.
const CLOSE: f64 = 1e-5;

impl Pair {
    pub fn factors(&self, density_area: f64, axial_m_s: f64) -> PairFactors {
        let alone = PairFactors { upper: Interference::NONE, lower: Interference::NONE };
        if self.upper_n <= 0.0 || self.lower_n <= 0.0 {
            return alone;
        }
        let climb = axial_m_s.max(0.0);
        let (upper, lower) = (self.upper_n / density_area, self.lower_n / density_area);
        let total = upper + lower;
        let back = self.spacing.back;
        let upper_at = |through_lower: f64| {
            let drawn = climb + 0.5 * back * lower / through_lower;
            0.5 * (drawn + (drawn * drawn + 2.0 * upper).sqrt())
        };
        let lower_at = |through_upper: f64| {
            let linear = upper * through_upper - total * climb;
            let root = (linear * linear + 2.0 * lower * total * total).sqrt();
            // The form that does not cancel.
            if linear > 0.0 { total * total / (linear + root) } else { (root - linear) / (2.0 * lower) }
        };
        // What would go through one disc under both loads is a round nearer than what stands far behind it.
        let mut through_lower = 0.5 * (climb + (climb * climb + 2.0 * total).sqrt());
        for _ in 0..ROUNDS {
            let once = lower_at(upper_at(through_lower));
            let twice = lower_at(upper_at(once));
            let (step, bend) = (once - through_lower, twice - 2.0 * once + through_lower);
            let ahead = if bend == 0.0 { twice } else { through_lower - step * step / bend };
            // Extrapolated only where that stays a flow.
            through_lower = if ahead > 0.0 { ahead } else { twice };
            if step.abs() < CLOSE * once {
                break;
            }
        }
        let through_upper = upper_at(through_lower);
        let lone = |load: f64| 0.5 * ((climb * climb + 2.0 * load).sqrt() - climb);
        let (upper_alone, lower_alone) = (lone(upper), lone(lower));
        let meets_upper = 0.5 * (through_upper + climb + upper_alone);
        let meets_lower = 0.5 * (meets_upper + (meets_upper * meets_upper + 2.0 * lower).sqrt());
        let over = |alone: f64, power: f64, speed: f64| Interference {
            power: (power - climb) / alone,
            speed: (speed - climb) / alone,
        };
        PairFactors {
            upper: over(upper_alone, through_upper, meets_upper),
            lower: over(lower_alone, through_lower, meets_lower),
        }
    }
}
