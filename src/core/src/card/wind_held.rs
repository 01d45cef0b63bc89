//! The wind that can be held: the trim solved at the wind, with the packs' sag under that very load.
//!
//! Formula   D = ½ ρ f V², tilt atan(D/W), T = √(W² + D²); each rotor at (1 + k) times its share in that flow; the bus stands at
//!           the voltage under the sum of their powers. Held: every motor's voltage at most the bus's, its current at most its limit,
//!           its thrust at most what the bench table measured, tilt at most its limit. The greatest V by bisection from calm air to 40 m/s
//! Units     m/s
//! Source    steady force balance (Leishman, ch. 5, from memory); k = 0.2 of the mean wind and 0.1 of the gust: common practice,
//!           no source. A gust counts as steady: published gusts are peaks of about 3 s (WMO-No. 8, from memory), an aircraft leans
//!           within one
//! Valid     advance ratios up to 0.2: beyond nothing was checked, so no wind is held there (`WindLimit::Flow`)
//! Assumes   the doubt of C_T taken in full on the cautious side; a flow that the rotor's equations refuse cannot be held

use super::prepared::Prepared;
use crate::aircraft::Trim;
use crate::propulsion::{OperatingPoint, PropulsionUnit, ThrustLimit};
use crate::rotor::CHECKED_ADVANCE_RATIO;
use crate::supply::Source;
use crate::units::{MassDensity, Power, Ratio, Velocity};
use uom::si::velocity::meter_per_second;

const FASTEST_M_S: f64 = 40.0;
/// 40 m/s by 2⁻⁹: a wind is found to 0.08 m/s.
const NARROW_M_S: f64 = FASTEST_M_S / 512.0;
/// First step up from a wind that is known to be held.
const STEP_M_S: f64 = 16.0 * NARROW_M_S;

/// What ends the wind that can be held.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WindLimit {
    /// The rotors' thrust: what ends it there.
    Thrust(ThrustLimit),
    /// The packs cannot feed the rotors.
    Packs,
    /// The lean that the flight controller allows.
    Tilt,
    /// The flow through the leaned rotors is beyond what their equations stand for, or were checked for.
    Flow,
    /// Nothing up to 40 m/s.
    Nothing,
}

impl WindLimit {
    /// Its stable name in reports.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Thrust(limit) => limit.key(),
            Self::Packs => "packs",
            Self::Tilt => "tilt",
            Self::Flow => "flow",
            Self::Nothing => "nothing",
        }
    }
}

/// The greatest wind that can be held, and what ends it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WindHeld {
    /// At the height of the set.
    pub wind: Velocity,
    /// What binds just beyond.
    pub limit: WindLimit,
}

/// The air, the packs and what is kept for control.
#[derive(Debug, Clone, Copy)]
pub(super) struct Against<'a> {
    pub density: MassDensity,
    pub source: &'a Source,
    pub auxiliary: Power,
    pub control_share: Ratio,
    /// What one aircraft in ten has of its thrust.
    pub thrust_in_doubt: Ratio,
}

/// The greatest wind that can be held, at least `least`; none where not even that leaves so much for control.
fn wind_held(trim: &Trim<'_>, against: &Against<'_>, least: Option<Velocity>) -> Option<WindHeld> {
    let mut held = least.map_or(0.0, |least| least.get::<meter_per_second>());
    against.ends(trim, held).is_none().then_some(())?;
    let mut step = if least.is_some() { STEP_M_S } else { FASTEST_M_S };
    let (mut fails, mut limit) = loop {
        let beyond = (held + step).min(FASTEST_M_S);
        match against.ends(trim, beyond) {
            Some(limit) => break (beyond, limit),
            None if beyond >= FASTEST_M_S => {
                return Some(WindHeld { wind: speed(beyond), limit: WindLimit::Nothing });
            }
            None => (held, step) = (beyond, 2.0 * step),
        }
    };
    while fails - held > NARROW_M_S {
        let middle = f64::midpoint(held, fails);
        match against.ends(trim, middle) {
            None => held = middle,
            Some(what) => (fails, limit) = (middle, what),
        }
    }
    Some(WindHeld { wind: speed(held), limit })
}

fn speed(m_s: f64) -> Velocity {
    Velocity::new::<meter_per_second>(m_s)
}

/// Whether the air along the disc is faster, over the tip's speed, than was checked.
fn is_unchecked(rotor: &OperatingPoint, unit: &PropulsionUnit, edgewise_m_s: f64) -> bool {
    let tip_m_s = rotor.speed.value * 0.5 * unit.rotor.diameter.value;
    tip_m_s > 0.0 && edgewise_m_s > CHECKED_ADVANCE_RATIO * tip_m_s
}

impl Against<'_> {
    /// Whether this wind, or this airspeed, can be held.
    pub(super) fn holds(&self, trim: &Trim<'_>, wind: Velocity) -> bool {
        self.ends(trim, wind.get::<meter_per_second>()).is_none()
    }

    /// What keeps this wind from being held; none where it can be.
    fn ends(&self, trim: &Trim<'_>, wind_m_s: f64) -> Option<WindLimit> {
        let airframe = trim.airframe();
        // The doubt of C_T is a doubt of thrust: more is asked of each rotor by that much.
        let share = Ratio::from((1.0 + self.control_share.value) / self.thrust_in_doubt.value - 1.0);
        let Ok((lean, rotors)) = trim.holding(self.density, speed(wind_m_s), share) else {
            return Some(WindLimit::Flow);
        };
        if lean > airframe.tilt_limit {
            return Some(WindLimit::Tilt);
        }
        let power = rotors.iter().fold(self.auxiliary, |sum, rotor| sum + rotor.bus_power);
        let Some(bus) = self.source.voltage_at(power) else { return Some(WindLimit::Packs) };
        let unit = &airframe.unit;
        if rotors.iter().any(|rotor| rotor.motor_voltage > bus) {
            Some(WindLimit::Thrust(ThrustLimit::BusVoltage))
        } else if rotors.iter().any(|rotor| rotor.motor_current > unit.motor.current_limit) {
            Some(WindLimit::Thrust(ThrustLimit::MotorCurrent))
        } else if rotors.iter().any(|rotor| rotor.motor_current > unit.controller.current_limit) {
            Some(WindLimit::Thrust(ThrustLimit::ControllerCurrent))
        } else if unit.evidence.greatest_thrust().is_some_and(|most| rotors.iter().any(|at| at.thrust > most))
        {
            Some(WindLimit::Thrust(ThrustLimit::BenchTable))
        } else if rotors.iter().any(|rotor| is_unchecked(rotor, &airframe.unit, wind_m_s * lean.cos().value))
        {
            Some(WindLimit::Flow)
        } else {
            None
        }
    }
}

/// The winds that a setup can work in, at land-by.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WindInHand {
    /// Mean wind at the set's height; none where calm air is too much.
    pub mean: Option<WindHeld>,
    /// The same for a gust.
    pub gust: Option<WindHeld>,
}

impl Prepared<'_> {
    pub(super) fn against<'s>(&self, source: &'s Source, control_share: Ratio) -> Against<'s> {
        Against {
            density: self.set_air.density,
            source,
            auxiliary: self.auxiliary(),
            control_share,
            thrust_in_doubt: self.uncertainty.cautious_thrust_to_weight(Ratio::from(1.0)),
        }
    }

    pub(super) fn wind_held(&self, source: &Source, control_share: Ratio) -> Option<WindHeld> {
        wind_held(&self.trim, &self.against(source, control_share), None)
    }

    pub(super) fn wind_in_hand(&self, source: &Source) -> WindInHand {
        let mean = self.wind_held(source, self.thresholds.control_thrust_share);
        // A wind that is held with more kept for control is held with less, though slower rotors are sooner unchecked.
        let against = self.against(source, self.thresholds.gust_control_share);
        let gust = wind_held(&self.trim, &against, mean.map(|mean| mean.wind));
        WindInHand { mean, gust: gust.or(mean) }
    }

    /// The greatest airspeed that the packs at land-by can hold as in a gust; none where calm air is too much.
    pub(super) fn greatest_airspeed(&self, at_land_by: &Source) -> Option<Velocity> {
        self.wind_in_hand(at_land_by).gust.map(|held| held.wind)
    }
}
