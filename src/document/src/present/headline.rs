//! The large figures: the cautious ones, and never a bolder figure while they are being computed.

use liftmargin_core::card::{Card, Cautious, Outcome};
use liftmargin_core::flight::Flight;
use liftmargin_core::units::{ElectricCharge, Time};
use uom::si::electric_charge::coulomb;
use uom::si::time::second;

/// The figures to act on. One that is none is being computed.
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
        Outcome::CannotHover { .. } | Outcome::NoWayHome { .. } | Outcome::NoFlight(_) => None,
    }
}

impl Headline {
    /// The large figures of a card that flies, with the cautious ones as far as they are computed: of the inputs as
    /// they are now where they are `fresh`, else of before the last change.
    pub fn new(card: &Card, last: Option<&Cautious>, fresh: bool) -> Option<Self> {
        let flight = flight_of(card)?;
        let of = |figure: fn(&Cautious) -> f64, typical: f64| {
            let cautious = figure(last?);
            // A figure of before the last change may stand only where it errs to the safe side.
            if fresh { Some(cautious.min(typical)) } else { (cautious <= typical).then_some(cautious) }
        };
        let charge = ElectricCharge::new::<coulomb>;
        let time = Time::new::<second>;
        let flight_time = of(|cautious| cautious.flight_time.value, flight.flight_time.value);
        // The whole doubt in time is doubt in the work on set, which comes before turning back.
        let lost = flight_time.map(|cautious| flight.flight_time.value - cautious);
        Some(Self {
            land_by: of(|cautious| cautious.land_by.value, flight.marks.land_by.value).map(charge),
            turn_back: of(|cautious| cautious.turn_back.value, flight.marks.turn_back.value).map(charge),
            turn_back_at: lost.map(|lost| time((flight.turn_back_at.value - lost).max(0.0))),
            flight_time: flight_time.map(time),
            median_flight_time: flight.flight_time,
            fresh,
        })
    }
}
