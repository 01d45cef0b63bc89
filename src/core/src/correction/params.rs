//! What goes into a correction and what it says.

use crate::input_error::InputError;
use crate::input_range::{InputRange, Kind};
use crate::units::{Ratio, Time};
use uom::si::ratio::ratio;

/// One flight against the model of that very flight: its mass, air, wind, packs and duration.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Flown {
    /// Power that explains what the meter counted, over the model's.
    pub power_factor: Ratio,
    /// One standard deviation of that factor by what was read: meter steps over what was used, seconds over minutes.
    pub reading: Ratio,
    /// How long ago.
    pub age: Time,
}

impl Flown {
    /// 0.2 to 5: beyond, the entry is not of this flight.
    pub const POWER_FACTOR: InputRange = InputRange::new("power_factor", Kind::Number, 0.2, 5.0);
    /// 0 to 0.5.
    pub const READING: InputRange = InputRange::new("reading_uncertainty", Kind::Share, 0.0, 0.5);
    /// Up to thirty years.
    pub const AGE: InputRange = InputRange::new("flight_age", Kind::Duration, 0.0, 9.5e8);
}

/// What is thought of the factor before any flight: one, with this standard deviation of its logarithm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Prior {
    /// The model's documented spread on power.
    pub spread: Ratio,
}

impl Prior {
    /// 0.005 to 0.5.
    pub const SPREAD: InputRange = InputRange::new("model_spread", Kind::Share, 0.005, 0.5);
}

/// How flights scatter about an airframe's factor: Student's t about it, in the logarithm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scatter {
    /// Scale of the t distribution, at its middle.
    pub scale: Ratio,
    /// Standard deviation of the logarithm of that scale: how little is known of it; 0 takes it as known.
    pub scale_doubt: Ratio,
    /// Degrees of freedom: the fewer, the less a wild flight counts; very many give the normal distribution.
    pub degrees_of_freedom: Ratio,
}

impl Scatter {
    /// 0.002 to 0.5.
    pub const SCALE: InputRange = InputRange::new("flight_scatter", Kind::Share, 0.002, 0.5);
    /// 0 to 1.
    pub const SCALE_DOUBT: InputRange = InputRange::new("flight_scatter_doubt", Kind::Number, 0.0, 1.0);
    /// 1 to 1e9.
    pub const DEGREES_OF_FREEDOM: InputRange = InputRange::new("degrees_of_freedom", Kind::Number, 1.0, 1e9);

    /// Holds every field against its range.
    ///
    /// # Errors
    /// `InputError::OutOfRange` naming the first field that misses.
    pub fn validate(&self) -> Result<(), InputError> {
        Self::SCALE.check(self.scale.value)?;
        Self::SCALE_DOUBT.check(self.scale_doubt.value)?;
        Self::DEGREES_OF_FREEDOM.check(self.degrees_of_freedom.value)?;
        Ok(())
    }
}

/// Flights of one airframe scatter by 4 % (meter 2 %, wind and pilot 3 %), known to a factor of 1.4, four degrees of
/// freedom: common practice, no source.
impl Default for Scatter {
    fn default() -> Self {
        let share = Ratio::new::<ratio>;
        Self { scale: share(0.04), scale_doubt: share(0.35), degrees_of_freedom: share(4.0) }
    }
}

/// What the flights teach.
#[derive(Debug, Clone, PartialEq)]
pub struct Correction {
    /// Flights that it rests on.
    pub flights: usize,
    /// Power over the model's: half of what is plausible lies below.
    pub median: Ratio,
    /// Standard deviation of its logarithm.
    pub spread: Ratio,
    /// Four fifths of what is plausible.
    pub interval_80: [Ratio; 2],
    /// Nine tenths of what is plausible.
    pub interval_90: [Ratio; 2],
    /// Flights far from the others, by their place in what was given.
    pub odd: Vec<Odd>,
}

impl Correction {
    /// The factor that a card may use. More power than the model's counts in full; less counts only as far as nine in ten
    /// of what is plausible assure it, so that a few lucky flights make no figure bolder.
    pub fn applied(&self) -> Ratio {
        let one = Ratio::new::<ratio>(1.0);
        let [_, assured] = self.interval_80;
        if self.median >= one { self.median } else { assured.min(one) }
    }
}

/// A flight far from what the others say.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Odd {
    /// Its place in what was given.
    pub flight: usize,
    /// Its factor over what the flights together say.
    pub over_the_others: Ratio,
    /// How many of its expected deviations that is.
    pub deviations: Ratio,
}
