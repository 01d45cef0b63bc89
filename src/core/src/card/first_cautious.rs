//! A first cautious figure at once, while the sampling runs: from fourteen flights, meant never to be bolder.
//!
//! Formula   x₁ = min(x₀ − Σᵢ max(0, x₀ − x(+z dᵢ), x₀ − x(−z dᵢ)), x(all inputs at their worse side together)), less 0.5 %; none
//!           where one of these flights cannot be flown
//! Units     SI
//! Source    the loss of a sum of independent doubts is at most the sum of the single losses; z from the normal table
//! Valid     a setup that flies in the middle
//! Checked   against 256 samples over drawn setups, places and seeds (tests/it/first_cautious.rs), not proved; the closest
//!           of 3281 such flights was a land-by of 0.998 of the sampled one
//! Assumes   inputs independent; each figure runs one way, or has its best near the middle, within ±z deviations

use super::cautious::Sampler;
use crate::input_error::InputError;
use crate::spread::{Draw, Input};
use crate::units::{ElectricCharge, Time};
use uom::si::electric_charge::coulomb;
use uom::si::time::second;

/// One in twenty is beyond it, where the sampled figures take one in ten: room for the scatter of the samples.
const DEVIATIONS: f64 = 1.645;

/// A reserve that doubts reach together only now and then leaves a land-by a thousandth bolder, once in some ten thousand.
const KEPT: f64 = 0.995;

/// Figures to show until the sampled ones are there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FirstCautious {
    /// From lift-off to touchdown.
    pub flight_time: Time,
    /// To be down before this on the meter on board.
    pub land_by: ElectricCharge,
    /// To turn back before this on the meter on board.
    pub turn_back: ElectricCharge,
}

impl Sampler<'_> {
    /// The first figures; none where a doubt alone, or all at once, may end the flight: then only samples can tell.
    ///
    /// # Errors
    /// `InputError` for a varied input beyond its range.
    pub fn first(&self) -> Result<Option<FirstCautious>, InputError> {
        const COUNT: usize = Input::ALL.len();
        let fly = |deviations: [f64; COUNT]| self.fly(&Draw::new(deviations, self.uncertainty()));
        let middle = fly([0.0; COUNT])?;
        let (mut losses, mut worse) = ([0.0; 3], [0.0; COUNT]);
        for (input, worse_side) in worse.iter_mut().enumerate() {
            let (mut greatest, mut least_time) = ([0.0_f64; 3], f64::INFINITY);
            for side in [DEVIATIONS, -DEVIATIONS] {
                let mut deviations = [0.0; COUNT];
                deviations[input] = side;
                let figures = fly(deviations)?;
                if figures[0] <= 0.0 {
                    return Ok(None);
                }
                for (greatest, (middle, figure)) in greatest.iter_mut().zip(middle.iter().zip(figures)) {
                    *greatest = greatest.max(middle - figure);
                }
                if figures[0] < least_time {
                    (least_time, *worse_side) = (figures[0], side);
                }
            }
            for (loss, greatest) in losses.iter_mut().zip(greatest) {
                *loss += greatest;
            }
        }
        let together = fly(worse)?;
        let [time_s, land_by_c, turn_back_c] =
            core::array::from_fn(|figure| KEPT * together[figure].min(middle[figure] - losses[figure]));
        Ok((time_s > 0.0 && land_by_c > 0.0 && turn_back_c > 0.0).then(|| FirstCautious {
            flight_time: Time::new::<second>(time_s),
            land_by: ElectricCharge::new::<coulomb>(land_by_c),
            turn_back: ElectricCharge::new::<coulomb>(turn_back_c),
        }))
    }
}
