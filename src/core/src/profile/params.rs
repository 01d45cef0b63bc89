//! The flight as planned.

use crate::aircraft::GREATEST_AIRSPEED_M_S;
use crate::input_error::InputError;
use crate::input_range::{InputRange, Kind};
use crate::units::{Length, Power, Ratio, Time, Velocity};

/// The flight as planned. The work on set is the open part: as long as the packs allow.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Profile {
    /// Motors turning on the ground before lift-off.
    pub warm_up: Time,
    /// Height of the set above the launch site.
    pub height: Length,
    /// Distance from the launch site to the set.
    pub distance: Length,
    /// Climb rate.
    pub climb_rate: Velocity,
    /// Sink rate on the way down.
    pub descent_rate: Velocity,
    /// Airspeed on the way out and home.
    pub transit_airspeed: Velocity,
    /// Mean power on set over hover power there, less one: 0.10 for lively manoeuvring.
    pub manoeuvre_allowance: Ratio,
    /// Hovering low before touchdown.
    pub landing: Time,
    /// One more approach kept in hand.
    pub go_around: Time,
}

impl Profile {
    /// 0 to 5 min.
    pub const WARM_UP: InputRange = InputRange::new("warm_up", Kind::Duration, 0.0, 300.0);
    /// 0 to 500 m.
    pub const HEIGHT: InputRange = InputRange::new("height", Kind::Length, 0.0, 500.0);
    /// 0 to 5 km.
    pub const DISTANCE: InputRange = InputRange::new("distance", Kind::Length, 0.0, 5000.0);
    /// 0.5 to 10 m/s.
    pub const CLIMB_RATE: InputRange = InputRange::new("climb_rate", Kind::Speed, 0.5, 10.0);
    /// 0.5 to 6 m/s.
    pub const DESCENT_RATE: InputRange = InputRange::new("descent_rate", Kind::Speed, 0.5, 6.0);
    /// 1 to 30 m/s.
    pub const TRANSIT_AIRSPEED: InputRange =
        InputRange::new("transit_airspeed", Kind::Speed, 1.0, GREATEST_AIRSPEED_M_S);
    /// 0 to 0.5.
    pub const MANOEUVRE_ALLOWANCE: InputRange = InputRange::new("manoeuvre_allowance", Kind::Share, 0.0, 0.5);
    /// 5 s to 5 min.
    pub const LANDING: InputRange = InputRange::new("landing", Kind::Duration, 5.0, 300.0);
    /// 0 to 5 min.
    pub const GO_AROUND: InputRange = InputRange::new("go_around", Kind::Duration, 0.0, 300.0);

    /// Holds every field against its bound.
    ///
    /// # Errors
    /// `InputError::OutOfRange` naming the first field that misses.
    pub fn validate(&self) -> Result<(), InputError> {
        Self::WARM_UP.check(self.warm_up.value)?;
        Self::HEIGHT.check(self.height.value)?;
        Self::DISTANCE.check(self.distance.value)?;
        Self::CLIMB_RATE.check(self.climb_rate.value)?;
        Self::DESCENT_RATE.check(self.descent_rate.value)?;
        Self::TRANSIT_AIRSPEED.check(self.transit_airspeed.value)?;
        Self::MANOEUVRE_ALLOWANCE.check(self.manoeuvre_allowance.value)?;
        Self::LANDING.check(self.landing.value)?;
        Self::GO_AROUND.check(self.go_around.value)?;
        Ok(())
    }
}

/// The part a leg plays.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LegKind {
    /// Motors turning on the ground.
    WarmUp,
    /// Up to the set's height.
    Climb,
    /// Out to the set.
    Transit,
    /// On set.
    OnSet,
    /// Home.
    Return,
    /// Down.
    Descent,
    /// Hover before touchdown.
    Landing,
    /// One more approach.
    GoAround,
}

impl LegKind {
    /// Its stable name in files and reports.
    pub const fn key(self) -> &'static str {
        match self {
            Self::WarmUp => "warm-up",
            Self::Climb => "climb",
            Self::Transit => "transit",
            Self::OnSet => "on-set",
            Self::Return => "return",
            Self::Descent => "descent",
            Self::Landing => "landing",
            Self::GoAround => "go-around",
        }
    }
}

/// A leg with a fixed duration.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Leg {
    /// Its part.
    pub kind: LegKind,
    /// How long it takes.
    pub duration: Time,
    /// What the motors draw from the bus.
    pub power: Power,
}

/// The flight as the supply sees it: fixed legs, the open work on set, fixed legs home.
#[derive(Debug, Clone, PartialEq)]
pub struct LegDemand {
    /// Before the set.
    pub outbound: Vec<Leg>,
    /// Motor power on set.
    pub on_set: Power,
    /// After the set.
    pub homebound: Vec<Leg>,
}
