//! What goes into a card and what it says.

use crate::air::Air;
use crate::bound::{Bound, Kind};
use crate::flight::{Flight, NoFlight, ReservePolicy};
use crate::frame::Layout;
use crate::limits::{Check, Verdict};
use crate::mass::{Item, MassAndBalance};
use crate::profile::Profile;
use crate::propulsion::{OperatingPoint, PropulsionUnit, ThrustLimit};
use crate::supply::Supply;
use crate::units::{Area, Force, Mass, Power, Ratio};

/// The aircraft without what is put on it.
#[derive(Debug, Clone, PartialEq)]
pub struct Airframe {
    /// Rotor places.
    pub layout: Layout,
    /// The propulsion unit at every place.
    pub unit: PropulsionUnit,
    /// Greatest all-up mass the frame's maker allows, if stated.
    pub mass_limit: Option<Mass>,
    /// Equivalent flat-plate area of everything but the rotors.
    pub drag_area: Area,
}

impl Airframe {
    /// 0.005 to 3 m².
    pub const DRAG_AREA: Bound = Bound::new("drag_area", Kind::Area, 0.005, 3.0);
    /// 0.2 to 150 kg.
    pub const MASS_LIMIT: Bound = Bound::new("mass_limit", Kind::Mass, 0.2, 150.0);
}

/// One setup, ready to be computed.
#[derive(Debug, Clone, PartialEq)]
pub struct Setup {
    /// Aircraft.
    pub airframe: Airframe,
    /// Everything with mass: bare frame, packs, payload.
    pub items: Vec<Item>,
    /// Packs, joined. Its auxiliary power does not yet hold the items' own power.
    pub supply: Supply,
    /// Flight as planned.
    pub profile: Profile,
    /// What must be left.
    pub policy: ReservePolicy,
}

/// The aircraft in still-air hover at the site.
#[derive(Debug, Clone, PartialEq)]
pub struct Hover {
    /// Motor power from the bus, all rotors.
    pub power: Power,
    /// Throttle of the most loaded rotor with packs as they are at the start.
    pub throttle: Ratio,
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
    /// Hover at the start and at land-by; none where a rotor cannot give its share at all.
    pub hover: Option<Hover>,
    /// The flight.
    pub outcome: Outcome,
    /// All checks, worst first.
    pub checks: Vec<Check>,
    /// The verdict.
    pub verdict: Verdict,
}
