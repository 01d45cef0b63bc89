//! What goes into a card and what it says.

use super::leg_beyond::LegBeyond;
use super::wind_held::WindInHand;
use super::worst_rotor::WorstRotorOut;
use crate::air::Air;
pub use crate::aircraft::Airframe;
use crate::flight::{Flight, NoFlight, ReservePolicy};
use crate::limits::{Check, Verdict};
use crate::mass::{Item, MassAndBalance};
use crate::profile::Profile;
use crate::propulsion::{OperatingPoint, ThrustLimit};
use crate::supply::Supply;
use crate::units::{Force, Power, Ratio, Velocity};

/// One setup, ready to be computed.
#[derive(Debug, Clone, PartialEq)]
pub struct Setup {
    /// Aircraft.
    pub airframe: Airframe,
    /// Everything with mass: bare frame, packs, payload.
    pub items: Vec<Item>,
    /// Packs, joined. Its auxiliary power holds the items' own power too.
    pub supply: Supply,
    /// Flight as planned.
    pub profile: Profile,
    /// What must be left.
    pub policy: ReservePolicy,
}

/// The aircraft in still-air hover at the height of the set.
#[derive(Debug, Clone, PartialEq)]
pub struct Hover {
    /// Motor power from the bus, all rotors.
    pub power: Power,
    /// Throttle of the most loaded rotor with packs as they are at the start; none where they cannot feed it.
    pub throttle: Option<Ratio>,
    /// The same at land-by; none without a flight.
    pub throttle_at_land_by: Option<Ratio>,
    /// Each rotor at work.
    pub rotors: Vec<OperatingPoint>,
    /// Greatest level thrust at the start.
    pub greatest_thrust: Force,
    /// What ends it.
    pub thrust_ruled_by: ThrustLimit,
    /// Greatest level thrust over weight at the start.
    pub thrust_to_weight: Ratio,
    /// The same at land-by; none without a flight.
    pub thrust_to_weight_at_land_by: Option<Ratio>,
    /// What one aircraft in ten falls short of at the start: by the spread of thrust and mass.
    pub cautious_thrust_to_weight: Ratio,
    /// The same at land-by; none without a flight.
    pub cautious_thrust_to_weight_at_land_by: Option<Ratio>,
}

/// Whether there is a flight.
#[derive(Debug, Clone, PartialEq)]
pub enum Outcome {
    /// Yes, the longest allowed one.
    Flies(Box<Flight>),
    /// The rotors cannot lift it here.
    CannotHover {
        /// Weight to be lifted.
        needed: Force,
        /// Greatest level thrust.
        available: Force,
        /// What ends the thrust.
        ruled_by: ThrustLimit,
    },
    /// It hovers but cannot fly home against the wind at the set's height.
    NoWayHome {
        /// Airspeed in transit.
        airspeed: Velocity,
        /// Mean wind at the set's height.
        wind: Velocity,
    },
    /// It hovers but cannot fly one of the legs at the speed planned for it.
    LegBeyond(LegBeyond),
    /// It hovers but the packs cannot carry it out and home.
    NoFlight(NoFlight),
}

/// One setup, here, now.
#[derive(Debug, Clone, PartialEq)]
pub struct Card {
    /// Air at the site.
    pub air: Air,
    /// All-up mass and centre of gravity.
    pub mass: MassAndBalance,
    /// Share of the thrust for each rotor in level hover.
    pub rotor_shares: Vec<Ratio>,
    /// Hover at the set, at the start and at land-by.
    pub hover: Hover,
    /// The flight.
    pub outcome: Outcome,
    /// The worst rotor to lose, at land-by; none without a flight.
    pub rotor_out: Option<WorstRotorOut>,
    /// The winds that it can work in, at land-by; none without a flight.
    pub wind: Option<WindInHand>,
    /// All checks, worst first.
    pub checks: Vec<Check>,
    /// The verdict.
    pub verdict: Verdict,
}
