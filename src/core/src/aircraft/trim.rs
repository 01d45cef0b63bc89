//! Steady flight of the whole aircraft.
//!
//! Formula   D = ½ ρ f V²; tilt θ = atan(D / W); T = √(W² + D²); each rotor carries its share of T in the flow
//!           V_axial = V_c cos θ + V sin θ, V_edgewise = V cos θ − V_c sin θ
//! Units     SI
//! Source    steady force balance of a helicopter in level flight, Leishman, Principles of Helicopter
//!           Aerodynamics, ch. 2 and 5 (chapters from memory)
//! Valid     speeds inside the bounds of `Profile`
//! Assumes   shares of thrust as in hover; no drag along the vertical; frame and payload as one flat plate

use super::params::Airframe;
use crate::constants::STANDARD_GRAVITY_M_S2;
use crate::frame::{Place, Position, RotorRole, hover_shares};
use crate::input_error::InputError;
use crate::mass::MassAndBalance;
use crate::propulsion::{
    CoaxialParams, OperatingPoint, ThrustLimit, ceiling, operate, operate_pair, pair_ceiling,
};
use crate::rotor::Flow;
use crate::units::{Angle, Area, ElectricPotential, Force, Length, MassDensity, Power, Ratio, Velocity};
use uom::si::angle::radian;
use uom::si::force::newton;
use uom::si::mass::kilogram;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::velocity::meter_per_second;

/// An airframe loaded with a known mass and balance.
#[derive(Debug, Clone, PartialEq)]
pub struct Trim<'a> {
    airframe: &'a Airframe,
    shares: Vec<Ratio>,
    centre_of_gravity: Position,
    coaxial: CoaxialParams,
    weight: Force,
}

/// The greatest thrust of all rotors that keeps the aircraft level.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LevelCeiling {
    /// That thrust.
    pub thrust: Force,
    /// What ends it, at the rotor that ends it.
    pub ruled_by: ThrustLimit,
    /// Power from the bus with every rotor at its ceiling.
    pub full_power: Power,
    /// Thrust of a rotor, or of the upper and the lower one of a pair, at its ceiling.
    pub(super) of_rotors: (Force, Option<Force>),
}

impl<'a> Trim<'a> {
    /// Shares the weight out over the rotors.
    ///
    /// # Errors
    /// `InputError` where the airframe misses a bound or no rotor thrusts hold this centre of gravity level.
    pub fn new(airframe: &'a Airframe, mass: &MassAndBalance) -> Result<Self, InputError> {
        airframe.validate()?;
        let shares = hover_shares(&airframe.layout, &mass.centre_of_gravity)?;
        let coaxial = CoaxialParams { spacing: least_spacing(&airframe.layout.places) };
        MassAndBalance::ALL_UP_MASS.check(mass.all_up_mass.value)?;
        let weight = Force::new::<newton>(mass.all_up_mass.get::<kilogram>() * STANDARD_GRAVITY_M_S2);
        Ok(Self { airframe, shares, centre_of_gravity: mass.centre_of_gravity, coaxial, weight })
    }

    /// The same aircraft and balance with another weight.
    #[must_use]
    pub fn with_weight(&self, weight: Force) -> Self {
        Self { weight, ..self.clone() }
    }

    /// Weight carried.
    pub fn weight(&self) -> Force {
        self.weight
    }

    /// Share of the thrust of each rotor.
    pub fn shares(&self) -> &[Ratio] {
        &self.shares
    }

    /// Centre of gravity.
    pub fn centre_of_gravity(&self) -> Position {
        self.centre_of_gravity
    }

    /// How its coaxial pairs stand.
    pub(super) fn coaxial(&self) -> &CoaxialParams {
        &self.coaxial
    }

    /// The airframe.
    pub fn airframe(&self) -> &'a Airframe {
        self.airframe
    }

    /// Motor power from the bus at an airspeed and a climb rate (negative: sinking).
    ///
    /// # Errors
    /// `InputError` from the propulsion unit.
    pub fn power(
        &self,
        density: MassDensity,
        airspeed: Velocity,
        climb_rate: Velocity,
    ) -> Result<Power, InputError> {
        let rotors = self.rotors(density, airspeed, climb_rate)?;
        Ok(rotors.iter().fold(Power::default(), |sum, rotor| sum + rotor.bus_power))
    }

    /// Each rotor at work at an airspeed and a climb rate (negative: sinking).
    ///
    /// # Errors
    /// `InputError` from the propulsion unit.
    pub fn rotors(
        &self,
        density: MassDensity,
        airspeed: Velocity,
        climb_rate: Velocity,
    ) -> Result<Vec<OperatingPoint>, InputError> {
        let (thrust, flow) = self.steady(density, airspeed, climb_rate, self.airframe.drag_area);
        self.at_work(density, thrust, &flow)
    }

    /// Lean against a wind, and each rotor at (1 + `control_share`) times its share of the thrust in the flow that this
    /// makes: whether the wind can be held with that share kept for control.
    ///
    /// # Errors
    /// `InputError` from the propulsion unit.
    pub fn holding(
        &self,
        density: MassDensity,
        wind: Velocity,
        control_share: Ratio,
    ) -> Result<(Angle, Vec<OperatingPoint>), InputError> {
        let (thrust, flow) = self.steady(density, wind, Velocity::default(), self.airframe.lean_area);
        let lean = (self.weight / thrust).value.min(1.0).acos();
        let rotors = self.at_work(density, thrust * (1.0 + control_share.value), &flow)?;
        Ok((Angle::new::<radian>(lean), rotors))
    }

    fn at_work(
        &self,
        density: MassDensity,
        thrust: Force,
        flow: &Flow,
    ) -> Result<Vec<OperatingPoint>, InputError> {
        let unit = &self.airframe.unit;
        let mut points: Vec<OperatingPoint> = Vec::with_capacity(self.shares.len());
        let mut known: Vec<(Ratio, Option<Ratio>, [OperatingPoint; 2])> = Vec::new();
        for (upper, lower) in self.stations() {
            let seen =
                known.iter().find(|(u, l, _)| near(*u, upper) && near_optional(*l, lower)).map(|k| k.2);
            let pair = match (seen, lower) {
                (Some(pair), _) => pair,
                (None, None) => [operate(unit, density, thrust * upper, flow)?; 2],
                (None, Some(low)) => {
                    operate_pair(unit, &self.coaxial, density, thrust * upper, thrust * low, flow)?.into()
                }
            };
            if seen.is_none() {
                known.push((upper, lower, pair));
            }
            points.push(pair[0]);
            if lower.is_some() {
                points.push(pair[1]);
            }
        }
        let airframe = self.airframe;
        for point in &mut points {
            point.bus_power *= airframe.power_factor();
            point.motor_current *= airframe.strain_factor();
        }
        Ok(points)
    }

    /// Greatest level thrust at a bus voltage and a climb rate: the first rotor (or pair) at its ceiling ends it. Sought
    /// first `near` one of this trim that is known for a like state.
    ///
    /// # Errors
    /// `InputError` from the propulsion unit.
    pub fn ceiling(
        &self,
        density: MassDensity,
        bus_voltage: ElectricPotential,
        climb_rate: Velocity,
        near: Option<&LevelCeiling>,
    ) -> Result<LevelCeiling, InputError> {
        let flow = Flow::climb(climb_rate);
        let unit = &self.airframe.unit;
        let near = near.map(|near| near.of_rotors);
        let (single, pair) = if self.stations().any(|(_, lower)| lower.is_some()) {
            let near = near.and_then(|(upper, lower)| Some((upper, lower?)));
            let (upper, lower) = pair_ceiling(unit, &self.coaxial, density, bus_voltage, &flow, near)?;
            (upper, Some(lower))
        } else {
            (ceiling(unit, density, bus_voltage, &flow, near.map(|near| near.0))?, None)
        };
        let of_rotors = (single.point.thrust, pair.map(|lower| lower.point.thrust));
        let mut level: Option<LevelCeiling> = None;
        let mut full_power = Power::default();
        for (upper, lower) in self.stations() {
            let share = lower.map_or(upper, |low| upper + low);
            let below = pair.filter(|_| lower.is_some());
            let thrust = below.map_or(single.point.thrust, |low| single.point.thrust + low.point.thrust);
            full_power +=
                below.map_or(single.point.bus_power, |low| single.point.bus_power + low.point.bus_power);
            if share.value > 0.0 && level.is_none_or(|known| thrust / share < known.thrust) {
                let ruled_by = below.map_or(single.ruled_by, |low| low.ruled_by);
                level = Some(LevelCeiling { thrust: thrust / share, ruled_by, full_power, of_rotors });
            }
        }
        // Shares sum to one, so some rotor carries; the fallback keeps core free of panics.
        full_power *= self.airframe.strain_factor();
        let none =
            LevelCeiling { thrust: Force::default(), ruled_by: single.ruled_by, full_power, of_rotors };
        Ok(LevelCeiling { full_power, ..level.unwrap_or(none) })
    }

    /// Shares by station: a single rotor, or a pair as upper and lower.
    fn stations(&self) -> impl Iterator<Item = (Ratio, Option<Ratio>)> + '_ {
        let places: &[Place] = &self.airframe.layout.places;
        let is_lower =
            move |index: usize| places.get(index).is_some_and(|place| place.role == RotorRole::Lower);
        self.shares.iter().enumerate().filter(move |(index, _)| !is_lower(*index)).map(
            move |(index, &share)| {
                (share, self.shares.get(index + 1).copied().filter(|_| is_lower(index + 1)))
            },
        )
    }

    fn steady(
        &self,
        density: MassDensity,
        airspeed: Velocity,
        climb_rate: Velocity,
        area: Area,
    ) -> (Force, Flow) {
        let speed_m_s = airspeed.get::<meter_per_second>();
        let climb_m_s = climb_rate.get::<meter_per_second>();
        let weight_n = self.weight.get::<newton>();
        let pressure_pa = 0.5 * density.get::<kilogram_per_cubic_meter>() * speed_m_s * speed_m_s;
        let drag_n = pressure_pa * area.value;
        let thrust_n = weight_n.hypot(drag_n);
        let (cos, sin) = (weight_n / thrust_n, drag_n / thrust_n);
        let flow = Flow {
            axial: Velocity::new::<meter_per_second>(climb_m_s * cos + speed_m_s * sin),
            edgewise: Velocity::new::<meter_per_second>((speed_m_s * cos - climb_m_s * sin).abs()),
        };
        (Force::new::<newton>(thrust_n), flow)
    }
}

/// From upper to lower rotor, of the closest pair: the closer, the more they disturb each other.
fn least_spacing(places: &[Place]) -> Length {
    let pairs = places.windows(2).filter_map(|pair| match pair {
        [upper, lower] if lower.role == RotorRole::Lower => {
            Some((lower.position.down - upper.position.down).abs())
        }
        _ => None,
    });
    pairs.reduce(Length::min).unwrap_or_default()
}

/// Equal loads differ only by the arithmetic of the shares.
fn near(a: Ratio, b: Ratio) -> bool {
    (a.value - b.value).abs() < 1e-12
}

fn near_optional(a: Option<Ratio>, b: Option<Ratio>) -> bool {
    match (a, b) {
        (Some(a), Some(b)) => near(a, b),
        (None, None) => true,
        _ => false,
    }
}
