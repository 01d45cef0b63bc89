//! One setup at one site with what every question to it needs, made once; and its card: calls the stations in their
//! order, computes nothing itself.

use super::checks::{self, Facts, InFlight};
use super::margin::{greatest_climb_rate, level_thrust};
use super::params::{Card, Hover, Outcome, Setup};
use super::string_out::string_out;
use super::wind_held::WindInHand;
use super::worst_rotor::{WorstRotorOut, worst_rotor_out};
use crate::air::{Air, Site, air_above, wind_at};
use crate::aircraft::{LevelCeiling, Trim};
use crate::flight::{Flight, FlightSettings, FlightTask};
use crate::input_error::InputError;
use crate::limits::{Check, Thresholds, verdict};
use crate::mass::{MassAndBalance, sum};
use crate::profile::{LegKind, Plan, plan};
use crate::propulsion::OperatingPoint;
use crate::rotor::{VORTEX_RING_SINK, hover_induced_velocity};
use crate::spread::Uncertainty;
use crate::supply::{Source, Supply};
use crate::units::{ElectricCurrent, ElectricPotential, Length, Power, Ratio, Velocity};

/// The card of one setup at one site. A setup that cannot fly gives a card that says so.
///
/// # Errors
/// `InputError` naming the first field of setup or site that misses its bound.
pub fn card(setup: &Setup, site: &Site, thresholds: &Thresholds) -> Result<Card, InputError> {
    Prepared::new(setup, site, thresholds)?.card()
}

/// One setup at one site, with mass, air, trim and plan made once for whatever is asked of it.
#[derive(Debug, Clone)]
pub struct Prepared<'a> {
    pub(super) setup: &'a Setup,
    pub(super) site: &'a Site,
    pub(super) thresholds: &'a Thresholds,
    air: Air,
    /// Thinner than at the launch site: margins are taken here.
    pub(super) set_air: Air,
    mass: MassAndBalance,
    pub(super) uncertainty: Uncertainty,
    pub(super) trim: Trim<'a>,
    /// As it came: a setup that cannot hover is told so before its legs are refused.
    plan: Result<Plan, InputError>,
}

/// Thrust in hand at one state of the packs.
pub(super) struct InHand {
    pub(super) level: LevelCeiling,
    pub(super) level_voltage: ElectricPotential,
    thrust_to_weight: Ratio,
    hover_voltage: Option<ElectricPotential>,
}

/// What is left when the packs are nearly spent.
struct AtLandBy {
    in_hand: InHand,
    rotor_out: Option<WorstRotorOut>,
    wind: WindInHand,
}

impl<'a> Prepared<'a> {
    /// Checks setup and site and does what all questions share.
    ///
    /// # Errors
    /// `InputError` naming the first field of setup or site that misses its bound.
    pub fn new(setup: &'a Setup, site: &'a Site, thresholds: &'a Thresholds) -> Result<Self, InputError> {
        setup.profile.validate()?;
        setup.policy.validate()?;
        let air = air_above(site, Length::default())?;
        let set_air = air_above(site, setup.profile.height)?;
        let mass = sum(&setup.items)?;
        let trim = Trim::new(&setup.airframe, &mass)?;
        let plan = plan(&trim, site, &setup.profile);
        let uncertainty = Uncertainty::for_airframe(&setup.airframe);
        Ok(Self { setup, site, thresholds, air, set_air, mass, uncertainty, trim, plan })
    }

    /// The planned legs, or why there is no way home.
    pub(super) fn plan(&self) -> Result<&Plan, InputError> {
        self.plan.as_ref().map_err(Clone::clone)
    }

    /// The card. A setup that cannot fly gives a card that says so.
    ///
    /// # Errors
    /// `InputError` from the propulsion unit or the packs.
    pub fn card(&self) -> Result<Card, InputError> {
        let still = Velocity::default();
        let rotors = self.trim.rotors(self.set_air.density, still, still)?;
        let hover_power = rotors.iter().fold(Power::default(), |sum, rotor| sum + rotor.bus_power);
        let start = self.setup.supply.source_at_start()?;
        let fresh = self.in_hand(&start, hover_power)?;
        let (mut outcome, mut string_out) = self.outcome(&start, &fresh)?;
        let mut end = match &outcome {
            Outcome::Flies(flight) => Some(self.at_land_by(&flight.source_at_land_by, hover_power)?),
            _ => None,
        };
        let held_home = end.as_ref().and_then(|end| end.wind.gust);
        if let Some(beyond) = self.transit_beyond(LegKind::Return, held_home) {
            (outcome, end, string_out) = (Outcome::LegBeyond(beyond), None, None);
        }
        let hover = self.hover(&rotors, hover_power, &fresh, end.as_ref().map(|end| &end.in_hand));
        let mut checks = self.checks(&hover, &outcome, end.as_ref())?;
        checks.extend(string_out);
        let verdict = verdict(&mut checks);
        Ok(Card {
            air: self.air,
            rotor_shares: self.trim.shares().to_vec(),
            mass: self.mass,
            hover,
            outcome,
            rotor_out: end.as_ref().and_then(|end| end.rotor_out),
            wind: end.as_ref().map(|end| end.wind),
            checks,
            verdict,
        })
    }

    pub(super) fn auxiliary(&self) -> Power {
        let Supply { auxiliary_power, converter_efficiency, .. } = self.setup.supply;
        auxiliary_power / converter_efficiency
    }

    fn in_hand(&self, source: &Source, hover_power: Power) -> Result<InHand, InputError> {
        let (level, level_voltage) =
            level_thrust(&self.trim, self.set_air.density, source, self.auxiliary())?;
        Ok(InHand {
            thrust_to_weight: level.thrust / self.trim.weight(),
            level,
            level_voltage,
            hover_voltage: source.voltage_at(hover_power + self.auxiliary()),
        })
    }

    /// What becomes of the flight, and where there is one, whether it survives the loss of a string.
    fn outcome(&self, start: &Source, fresh: &InHand) -> Result<(Outcome, Option<Check>), InputError> {
        if fresh.thrust_to_weight.value < 1.0 {
            let (needed, available) = (self.trim.weight(), fresh.level.thrust);
            return Ok((Outcome::CannotHover { needed, available, ruled_by: fresh.level.ruled_by }, None));
        }
        let legs = match &self.plan {
            &Ok(Plan::NoWayHome { airspeed, wind }) => {
                return Ok((Outcome::NoWayHome { airspeed, wind }, None));
            }
            Ok(Plan::Legs(legs)) => Ok(legs),
            Err(refused) => Err(refused.clone()),
        };
        // Before the plan is asked: a leg that the rotors' equations refuse has a name here.
        if let Some(beyond) = self.outbound_beyond(start, fresh)? {
            return Ok((Outcome::LegBeyond(beyond), None));
        }
        let legs = legs?;
        let Setup { supply, policy, .. } = self.setup;
        let task = FlightTask::new(supply, legs, policy, &FlightSettings::default())?;
        Ok(match task.longest() {
            Ok(mut longest) => {
                let check = string_out(self.setup, &mut longest)?;
                (Outcome::Flies(Box::new(longest.in_full())), Some(check))
            }
            Err(none) => (Outcome::NoFlight(none), None),
        })
    }

    fn checks(
        &self,
        hover: &Hover,
        outcome: &Outcome,
        end: Option<&AtLandBy>,
    ) -> Result<Vec<Check>, InputError> {
        let Setup { airframe, profile, policy, supply, .. } = self.setup;
        let flight = match (outcome, end) {
            (Outcome::Flies(flight), Some(end)) => Some(self.in_flight(flight, hover, end)?),
            _ => None,
        };
        let most = |current: ElectricCurrent, rotor: &OperatingPoint| current.max(rotor.motor_current);
        Ok(checks::all(&Facts {
            thresholds: self.thresholds,
            thrust_to_weight: hover.cautious_thrust_to_weight,
            greatest_motor_current: hover.rotors.iter().fold(ElectricCurrent::default(), most),
            motor_current_limit: airframe
                .unit
                .motor
                .current_limit
                .min(airframe.unit.controller.current_limit),
            most_loaded_over_mean: self.most_loaded_over_mean(),
            all_up_mass: self.mass.all_up_mass,
            mass_limit: airframe.mass_limit,
            coldest_pack: supply.coldest_pack(),
            policy,
            wind: wind_at(self.site.wind, profile.height),
            gust: wind_at(self.site.gust.max(self.site.wind), profile.height),
            transit: (profile.distance.value > 0.0).then_some(profile.transit_airspeed),
            sink_rate: (profile.height.value > 0.0).then_some(profile.descent_rate),
            ring_state_onset: self.ring_state_onset()?,
            flight,
        }))
    }

    fn in_flight<'f>(
        &self,
        flight: &'f Flight,
        hover: &Hover,
        end: &AtLandBy,
    ) -> Result<InFlight<'f>, InputError> {
        let control = self.thresholds.control_thrust_share;
        let still = (&end.in_hand.level, end.in_hand.level_voltage);
        Ok(InFlight {
            flight,
            thrust_to_weight: self.uncertainty.cautious_thrust_to_weight(end.in_hand.thrust_to_weight),
            hover_throttle: hover.throttle_at_land_by.map(|of| self.uncertainty.cautious_throttle(of)),
            wind: end.wind,
            climb_rate: greatest_climb_rate(&self.trim, self.set_air.density, still, control)?,
            rotor_out: end.rotor_out,
        })
    }

    fn at_land_by(&self, source: &Source, hover_power: Power) -> Result<AtLandBy, InputError> {
        let in_hand = self.in_hand(source, hover_power)?;
        Ok(AtLandBy { rotor_out: self.rotor_out(&in_hand)?, wind: self.wind_in_hand(source), in_hand })
    }

    /// At land-by: the packs give least there.
    fn rotor_out(&self, end: &InHand) -> Result<Option<WorstRotorOut>, InputError> {
        let layout = &self.setup.airframe.layout;
        let thrust_to_weight = self.uncertainty.cautious_thrust_to_weight(end.thrust_to_weight);
        worst_rotor_out(layout, &self.mass.centre_of_gravity, thrust_to_weight, self.thresholds)
    }

    fn most_loaded_over_mean(&self) -> Ratio {
        let shares = self.trim.shares();
        let most = shares.iter().fold(Ratio::default(), |most, share| most.max(*share));
        most * shares.len() as f64
    }

    /// Half the hover induced velocity: from there the measured descent data scatter (see `rotor`).
    fn ring_state_onset(&self) -> Result<Velocity, InputError> {
        let share = self.trim.shares().iter().fold(Ratio::default(), |most, share| most.max(*share));
        let diameter = self.setup.airframe.unit.rotor.diameter;
        Ok(hover_induced_velocity(diameter, self.air.density, self.trim.weight() * share)?
            * VORTEX_RING_SINK.0)
    }

    fn hover(&self, rotors: &[OperatingPoint], power: Power, fresh: &InHand, end: Option<&InHand>) -> Hover {
        let cautious = |at: &InHand| self.uncertainty.cautious_thrust_to_weight(at.thrust_to_weight);
        let most_v =
            rotors.iter().fold(ElectricPotential::default(), |most, rotor| most.max(rotor.motor_voltage));
        let throttle = |at: &InHand| at.hover_voltage.map(|bus| most_v / bus);
        Hover {
            power,
            throttle: throttle(fresh),
            throttle_at_land_by: end.and_then(throttle),
            rotors: rotors.to_vec(),
            greatest_thrust: fresh.level.thrust,
            thrust_ruled_by: fresh.level.ruled_by,
            thrust_to_weight: fresh.thrust_to_weight,
            thrust_to_weight_at_land_by: end.map(|end| end.thrust_to_weight),
            cautious_thrust_to_weight: cautious(fresh),
            cautious_thrust_to_weight_at_land_by: end.map(cautious),
        }
    }
}
