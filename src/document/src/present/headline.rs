//! The large figures: the cautious ones, and never a bolder figure while they are being computed.

use liftmargin_core::card::{Card, Cautious, FirstCautious, Outcome};
use liftmargin_core::flight::Flight;
use liftmargin_core::units::{ElectricCharge, Time};
use uom::si::electric_charge::coulomb;
use uom::si::time::second;

/// The figures to act on. One that is none is not known, or not yet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Headline {
    /// Shown by the meter on board when the aircraft must be down.
    pub land_by: Option<ElectricCharge>,
    /// Shown by the meter on board when the way home must begin.
    pub turn_back: Option<ElectricCharge>,
    /// From motor start to turning back, cautious.
    pub turn_back_at: Option<Time>,
    /// From lift-off to touchdown, cautious.
    pub flight_time: Option<Time>,
    /// The same, typical: half the flights are longer.
    pub median_flight_time: Time,
    /// Whether the cautious figures belong to the inputs as they are now.
    pub fresh: bool,
}

/// The flight of a card, if there is one.
pub fn flight_of(card: &Card) -> Option<&Flight> {
    match &card.outcome {
        Outcome::Flies(flight) => Some(flight),
        Outcome::CannotHover { .. }
        | Outcome::NoWayHome { .. }
        | Outcome::LegBeyond(_)
        | Outcome::NoFlight(_) => None,
    }
}

impl Headline {
    /// The large figures of a card that flies, with the cautious ones as far as they are computed: of the inputs as
    /// they are now where they are `fresh`, else of before the last change. Where none of these may be shown yet, the
    /// `first` ones of the inputs as they are now stand in.
    pub fn new(
        card: &Card,
        last: Option<&Cautious>,
        first: Option<&FirstCautious>,
        fresh: bool,
    ) -> Option<Self> {
        let flight = flight_of(card)?;
        let of = |figure: fn(&Cautious) -> f64, at_first: fn(&FirstCautious) -> f64, typical: f64| {
            let last = last.map(figure);
            if fresh {
                return last.map(|cautious| cautious.min(typical));
            }
            // A figure of before the last change may stand only where it errs to the safe side.
            last.filter(|cautious| *cautious <= typical).or(first.map(|first| at_first(first).min(typical)))
        };
        let charge = ElectricCharge::new::<coulomb>;
        let time = Time::new::<second>;
        let flight_time =
            of(|last| last.flight_time.value, |first| first.flight_time.value, flight.flight_time.value);
        // The whole doubt in time is doubt in the work on set, which comes before turning back.
        let lost = flight_time.map(|cautious| flight.flight_time.value - cautious);
        Some(Self {
            land_by: of(|last| last.land_by.value, |first| first.land_by.value, flight.marks.land_by.value)
                .map(charge),
            turn_back: of(
                |last| last.turn_back.value,
                |first| first.turn_back.value,
                flight.marks.turn_back.value,
            )
            .map(charge),
            turn_back_at: lost.map(|lost| time((flight.turn_back_at.value - lost).max(0.0))),
            flight_time: flight_time.map(time),
            median_flight_time: flight.flight_time,
            fresh,
        })
    }

    /// Whether every figure is known.
    pub fn is_complete(&self) -> bool {
        self.land_by.is_some() && self.turn_back.is_some() && self.flight_time.is_some()
    }

    /// Why a figure is not known, in words; none where all are.
    pub fn why_not_known(&self) -> Option<&'static str> {
        match (self.is_complete(), self.fresh) {
            (true, _) => None,
            (false, false) => Some(
                "The doubt in the inputs may end this flight early: flights are being sampled to find by how much.",
            ),
            (false, true) => Some(
                "The doubt in the inputs is beyond what can be sampled: plan with other packs or inputs.",
            ),
        }
    }
}
