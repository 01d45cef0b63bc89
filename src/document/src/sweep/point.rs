//! One place of a sweep, worked out in short steps: the card, then its own samples of the doubt.

use core::mem;

use liftmargin_core::card::{Card, Cautious, Prepared, Sampler, Samples};
use liftmargin_core::input_error::InputError;
use liftmargin_core::limits::{CheckKind, State};
use liftmargin_core::spread::Uncertainty;
use liftmargin_core::units::{ElectricCharge, ElectricCurrent, Ratio, Time};

use crate::card_report::{PIECE, SAMPLES, SEED};
use crate::present::{Headline, flight_of};
use crate::sheet::SheetInputs;

/// A figure to act on, and the typical one beside it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Two<T> {
    /// To act on; zero where more than one flight in ten does not come home as planned.
    pub cautious: T,
    /// Half the flights have more.
    pub typical: T,
}

/// The flight at a place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SweptFlight {
    /// From lift-off to touchdown.
    pub time: Two<Time>,
    /// Time on set of it.
    pub on_set: Two<Time>,
    /// To land by, by the meter on board.
    pub land_by: Two<ElectricCharge>,
    /// To turn back, by the meter on board.
    pub turn_back: Two<ElectricCharge>,
}

/// One place on the axis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SweepPoint {
    /// The place, in the axis's unit.
    pub at: f64,
    /// None without a flight.
    pub flight: Option<SweptFlight>,
    /// Greatest level thrust over weight, packs as they are at the start.
    pub thrust_to_weight: Two<Ratio>,
    /// Bus current in hover, without the steady load; none where the packs cannot feed it.
    pub hover_current: Option<ElectricCurrent>,
    /// Whether every check holds.
    pub state: State,
    /// The worst check.
    pub worst: Option<CheckKind>,
}

/// A place in the making.
#[derive(Debug)]
pub struct PointWork<'a> {
    inputs: &'a SheetInputs,
    card: Card,
    sampler: Option<Sampler<'a>>,
    flown: usize,
    samples: Samples,
}

impl<'a> PointWork<'a> {
    /// Begins with the card. With `verdict_only` no flight is sampled where the card says no already.
    ///
    /// # Errors
    /// As `Prepared::new` and `card`.
    pub fn new(inputs: &'a SheetInputs, verdict_only: bool) -> Result<Self, InputError> {
        let at = Prepared::new(&inputs.setup, &inputs.site, &inputs.thresholds)?;
        let card = at.card()?;
        let is_known = flight_of(&card).is_none() || (verdict_only && card.verdict.state == State::No);
        let uncertainty = Uncertainty::for_airframe(&inputs.setup.airframe);
        let sampler = if is_known { None } else { at.sampler(&uncertainty, SEED)? };
        Ok(Self { inputs, card, sampler, flown: 0, samples: Samples::default() })
    }

    /// Whether samples are wanted.
    pub const fn is_sampled(&self) -> bool {
        self.sampler.is_some()
    }

    /// One step on; true when all is known.
    pub fn step(&mut self) -> bool {
        let Some(sampler) = &self.sampler else { return true };
        let to = (self.flown + PIECE).min(SAMPLES);
        self.samples.join(sampler.sample(self.flown..to));
        self.flown = to;
        to == SAMPLES
    }

    /// The place as it was found.
    pub fn finish(mut self, at: f64) -> SweepPoint {
        let cautious = mem::take(&mut self.samples).summary();
        self.finish_with(at, cautious.as_ref())
    }

    /// The place with cautious figures that were found elsewhere.
    pub fn finish_with(self, at: f64, cautious: Option<&Cautious>) -> SweepPoint {
        let card = &self.card;
        let judged = match (&self.sampler, flight_of(card)) {
            // Not sampled, as it says no already.
            (None, Some(_)) => card.verdict,
            _ => card.judged(cautious, &self.inputs.thresholds).verdict,
        };
        let source = self.inputs.setup.supply.source_at_start().ok();
        let bus = source.and_then(|source| source.voltage_at(card.hover.power));
        let headline = Headline::new(card, cautious, None, true);
        SweepPoint {
            at,
            flight: headline.and_then(|headline| swept(card, headline)),
            thrust_to_weight: Two {
                cautious: card.hover.cautious_thrust_to_weight,
                typical: card.hover.thrust_to_weight,
            },
            hover_current: bus.map(|bus| card.hover.power / bus),
            state: judged.state,
            worst: judged.worst,
        }
    }
}

/// The flight with its cautious figures: those of the card.
fn swept(card: &Card, headline: Headline) -> Option<SweptFlight> {
    let flight = flight_of(card)?;
    let time = Two { cautious: headline.flight_time?, typical: flight.flight_time };
    // As for turning back: the whole doubt in time is doubt in the work on set.
    let lost = time.typical - time.cautious;
    let on_set = (flight.time_on_set - lost).max(Time::default());
    Some(SweptFlight {
        time,
        on_set: Two { cautious: on_set, typical: flight.time_on_set },
        land_by: Two { cautious: headline.land_by?, typical: flight.marks.land_by },
        turn_back: Two { cautious: headline.turn_back?, typical: flight.marks.turn_back },
    })
}
