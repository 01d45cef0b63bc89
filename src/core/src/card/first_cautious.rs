//! A first cautious figure at once, while the sampling runs: from four flights, meant never to be bolder.
//!
//! Formula   x₁ = min over wind and temperature at both ends of x(mass +z, power +z, capacity −z, resistance +z, wind, temperature),
//!           less 0.5 %; none where one of these flights cannot be flown
//! Units     SI
//! Source    all doubts at their worse side at once are worse than any of them that is reached by chance; z from the normal table
//! Valid     a setup that flies in the middle
//! Checked   against the sampled figures over drawn setups, places and seeds (tests/it/first_cautious.rs), not proved; the
//!           closest of 5753 was a land-by of 0.986 of the sampled one
//! Assumes   inputs independent; more mass, power and resistance and less capacity never help; wind and temperature are worst
//!           at one of their ends

use super::cautious::Sampler;
use crate::input_error::InputError;
use crate::spread::{Draw, Input};
use crate::units::{ElectricCharge, Time};
use uom::si::electric_charge::coulomb;
use uom::si::time::second;

/// One in twenty is beyond it, where the sampled figures take one in ten: room for the scatter of the samples.
const DEVIATIONS: f64 = 1.645;

/// One in fifty is beyond it: wind that ends more flights leaves the others no room below the one in ten.
const DEVIATIONS_OF_WIND: f64 = 2.054;

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
    /// The first figures; none where a doubt may end the flight: then only samples can tell.
    ///
    /// # Errors
    /// `InputError` for a varied input beyond its range.
    pub fn first(&self) -> Result<Option<FirstCautious>, InputError> {
        let mut least = [f64::INFINITY; 3];
        for (wind, temperature) in [(1.0, 1.0), (1.0, -1.0), (-1.0, 1.0), (-1.0, -1.0)] {
            let worse = Input::ALL.map(|input| match input {
                Input::Mass | Input::Power | Input::Resistance => DEVIATIONS,
                Input::Capacity => -DEVIATIONS,
                Input::Wind => wind * DEVIATIONS_OF_WIND,
                Input::Temperature => temperature * DEVIATIONS,
            });
            let figures = self.fly(&Draw::new(worse, self.uncertainty()))?;
            for (least, figure) in least.iter_mut().zip(figures) {
                *least = least.min(KEPT * figure);
            }
        }
        let [time_s, land_by_c, turn_back_c] = least;
        Ok((time_s > 0.0 && land_by_c > 0.0 && turn_back_c > 0.0).then(|| FirstCautious {
            flight_time: Time::new::<second>(time_s),
            land_by: ElectricCharge::new::<coulomb>(land_by_c),
            turn_back: ElectricCharge::new::<coulomb>(turn_back_c),
        }))
    }
}
