//! How it is drawn: seeded, so that equal inputs give equal cards.

use core::f64::consts::TAU;

use super::uncertainty::Uncertainty;
use crate::units::{Ratio, TemperatureInterval};
use rand::RngExt;
use rand::SeedableRng;
use rand_pcg::Pcg32;
use uom::si::ratio::ratio;

/// Deviations beyond three standard deviations are drawn again: a pack of half its capacity is another pack.
const GREATEST_DEVIATIONS: f64 = 3.0;

/// The uncertain inputs, in the order of `Draw::deviations`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Input {
    /// All-up mass.
    Mass,
    /// Motor power.
    Power,
    /// Capacity of the packs.
    Capacity,
    /// Resistance of the packs.
    Resistance,
    /// Mean wind.
    Wind,
    /// Temperature of air and packs.
    Temperature,
}

impl Input {
    /// All of them.
    pub const ALL: [Self; 6] =
        [Self::Mass, Self::Power, Self::Capacity, Self::Resistance, Self::Wind, Self::Temperature];
}

/// One drawn set of inputs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Draw {
    /// Standard deviations from the middle, in the order of `Input::ALL`.
    pub(crate) deviations: [f64; 6],
    /// On the mass.
    pub mass_factor: Ratio,
    /// On the motor power.
    pub power_factor: Ratio,
    /// On the capacity.
    pub capacity_factor: Ratio,
    /// On the resistance.
    pub resistance_factor: Ratio,
    /// One standard deviation behind `resistance_factor`.
    resistance_doubt: Ratio,
    /// On the mean wind.
    pub wind_factor: Ratio,
    /// Added to air and packs.
    pub temperature_offset: TemperatureInterval,
}

impl Draw {
    /// The inputs so many standard deviations from the middle.
    pub(crate) fn new(deviations: [f64; 6], uncertainty: &Uncertainty) -> Self {
        let [mass, power, capacity, resistance, wind, temperature] = deviations;
        let linear =
            |doubt: Ratio, deviation: f64| Ratio::new::<ratio>((1.0 + doubt.value * deviation).max(0.1));
        let logarithmic = |doubt: Ratio, deviation: f64| Ratio::new::<ratio>((doubt.value * deviation).exp());
        Self {
            deviations,
            mass_factor: linear(uncertainty.mass, mass),
            power_factor: linear(uncertainty.power, power),
            capacity_factor: linear(uncertainty.capacity, capacity),
            resistance_factor: logarithmic(uncertainty.resistance, resistance),
            resistance_doubt: uncertainty.resistance,
            wind_factor: logarithmic(uncertainty.wind, wind),
            temperature_offset: uncertainty.temperature * temperature,
        }
    }
}

impl Draw {
    /// On the resistance of a cell that is in doubt by more than all are: both doubts in one deviation.
    pub(crate) fn resistance_factor_of(&self, spread: Ratio) -> Ratio {
        if spread.value == 0.0 {
            return self.resistance_factor;
        }
        let [_, _, _, deviation, _, _] = self.deviations;
        let doubt = self.resistance_doubt.value.hypot(spread.value);
        Ratio::new::<ratio>((doubt * deviation).exp())
    }
}

/// A normal deviate of mean zero and deviation one: √(−2 ln u) cos 2πv with u, v uniform (Box and Muller 1958, "A note on
/// the generation of random normal deviates"; from memory). A library's faster way brings four kilobytes of tables.
fn standard_normal(generator: &mut Pcg32) -> f64 {
    // One less a share of [0, 1) is never zero.
    let (u, v): (f64, f64) = (1.0 - generator.random::<f64>(), generator.random());
    (-2.0 * u.ln()).sqrt() * (TAU * v).cos()
}

/// `count` draws from one seed.
pub fn draws(uncertainty: &Uncertainty, seed: u64, count: usize) -> impl Iterator<Item = Draw> {
    let uncertainty = *uncertainty;
    let mut generator = Pcg32::seed_from_u64(seed);
    (0..count).map(move |_| {
        let deviations = core::array::from_fn(|_| {
            loop {
                let deviation = standard_normal(&mut generator);
                if deviation.abs() <= GREATEST_DEVIATIONS {
                    break deviation;
                }
            }
        });
        Draw::new(deviations, &uncertainty)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::propulsion::Evidence;
    use crate::units::Force;

    /// Φ(−1.2816) = 0.1000, Φ(−1) = 0.1587, Φ(0) = 0.5, Φ(1.6449) = 0.95: any table of the normal distribution, from
    /// memory. Cut at three deviations, which takes 0.27 % away. 60,000 draws: four deviations of a share are 0.008.
    #[test]
    fn val_normal_table_shares_below_a_deviation() {
        let uncertainty = Uncertainty::for_evidence(&Evidence::Bench {
            rows: 9,
            mean_power_error: Ratio::new::<ratio>(0.1),
            with_speed: true,
            greatest_thrust: Force::default(),
            other_rotor: None,
        });
        let drawn: Vec<f64> = draws(&uncertainty, 7, 10_000).flat_map(|draw| draw.deviations).collect();
        for (deviation, share) in [(-1.2816, 0.1), (-1.0, 0.1587), (0.0, 0.5), (1.6449, 0.95)] {
            let below = drawn.iter().filter(|value| **value < deviation).count() as f64 / drawn.len() as f64;
            assert!((below - share).abs() < 0.008, "{below} below {deviation}, not {share}");
        }
        assert!(drawn.iter().all(|value| value.abs() <= GREATEST_DEVIATIONS));
    }
}
